//! A sweep's rows as a picture's contents.

use overwinter_line::answer::sweep::{Row, Sweep};
use overwinter_line::line::Value;

use crate::plot::{Swept, SweptAxis, SweptCamera, SweptPoint};

/// What the picture of a sweep shows.
#[must_use]
pub fn drawing(sweep: &Sweep<'_>, rows: &[Row]) -> Swept {
    let axes = sweep.axes.iter().map(|axis| SweptAxis {
        title: axis.title(),
        labels: axis.values.iter().map(Value::to_string).collect(),
        numbers: axis.numbers(),
    });
    let cameras = sweep.line.cameras.iter().map(|camera| {
        let own = rows.iter().filter(|row| row.camera == camera.name);
        SweptCamera {
            name: camera.name.clone(),
            points: own
                .map(|row| SweptPoint {
                    days: row.days,
                    season_days: f64::from(row.season_days),
                })
                .collect(),
        }
    });
    let keys: Vec<String> = sweep.axes.iter().map(|axis| axis.key.words().0).collect();
    Swept {
        title: format!("{}: days alive by {}", sweep.line.site, keys.join(" and ")),
        axes: axes.collect(),
        cameras: cameras.collect(),
    }
}
