//! A sweep's rows as a picture's contents.

use overwinter_line::answer::sweep::SweepAnswer;

use crate::plot::{Swept, SweptAxis, SweptCamera, SweptPoint};

/// What the picture of a sweep shows.
#[must_use]
pub fn picture_contents(answer: &SweepAnswer) -> Swept {
    let (document, details) = (&answer.document, &answer.details);
    let axes = details.axes.iter().map(|axis| SweptAxis {
        title: axis.title.clone(),
        labels: axis.labels.clone(),
        numbers: axis.numbers.clone(),
    });
    let cameras = details.cameras.iter().map(|name| {
        let own = document.rows.iter().filter(|row| row.camera == *name);
        SweptCamera {
            name: name.clone(),
            points: own
                .map(|row| {
                    let figures = &row.figures;
                    let days = [figures.days_p10, figures.days_p50, figures.days_p90];
                    SweptPoint {
                        days: days.map(|days| days.map(|days| days.0)),
                        season_days: f64::from(figures.season_days),
                    }
                })
                .collect(),
        }
    });
    let keys: Vec<&str> = details
        .axes
        .iter()
        .map(|axis| axis.words.as_str())
        .collect();
    Swept {
        title: format!("{}: days alive by {}", document.site, keys.join(" and ")),
        axes: axes.collect(),
        cameras: cameras.collect(),
    }
}
