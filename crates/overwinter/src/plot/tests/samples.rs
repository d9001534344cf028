//! What the pictures of these tests are drawn of.

use overwinter_line::answer;
use overwinter_model::{Charge, Voltage};

use super::{LINE_HEAD, SEASON, load};
use crate::plot::forecast::tests::{three_cameras, three_sampled};
use crate::plot::picture::Picture;
use crate::plot::*;

/// The sun at a latitude, before cameras that face these directions.
pub(super) fn sun_at(latitude_deg: f64, [start, end]: [&str; 2], facings_deg: &[u32]) -> Picture {
    let latitude = format!("latitude_deg = {latitude_deg:.1}");
    let mut text = LINE_HEAD.replace("START", start).replace("END", end);
    text = text.replace("latitude_deg = 46.5", &latitude);
    text += "cell = \"alkaline-aa\"\n[activity]\ntriggers_per_day = 8\n";
    for (place, facing) in facings_deg.iter().enumerate() {
        text += &format!("[[camera]]\nname = \"camera {place}\"\nfacing_deg = {facing}\n");
    }
    let line = load(&text);
    sun(&answer::sun::answer(&line, 30.0))
}

pub(super) fn comparison(cameras: usize) -> Comparison {
    let cell = |cell: &str, days: f64| CellDays {
        cell: cell.to_owned(),
        p10: Some(days * 0.7),
        p50: (days < 151.0).then_some(days),
        p90: (days < 140.0).then_some(days * 1.05),
        night_p50: Some(days * 0.8),
        alive_at_end: 0.83,
    };
    let cameras = (0..cameras).map(|place| CameraDays {
        name: format!("camera {place}"),
        cells: vec![
            cell("alkaline-aa", 100.0 - place as f64),
            cell("lead-acid-12v-4.5ah", 150.0),
            cell("lithium-aa", 151.0),
        ],
    });
    Comparison {
        title: "Upper creek: days by cell".to_owned(),
        season_days: 151.0,
        seasons: 1000,
        cameras: cameras.collect(),
    }
}

/// Curves that all end at nearly the same charge.
pub(super) fn curves() -> Curves {
    let curve = |place: usize| Curve {
        label: format!("alkaline-aa at {place} °C"),
        points: (0..=50)
            .map(|step| {
                let share = f64::from(step) / 50.0;
                let delivered = (2000.0 + place as f64) * share;
                let volts = 1.6 - 0.7 * share.powi(3);
                (
                    Charge::from_milliampere_hours(delivered),
                    Voltage::from_volts(volts),
                )
            })
            .collect(),
    };
    Curves {
        title: "Discharge at 250 mW".to_owned(),
        curves: (0..7).map(curve).collect(),
        limits: vec![
            Limit {
                label: "cut-off".to_owned(),
                at: Voltage::from_volts(1.0),
            },
            Limit {
                label: "flash".to_owned(),
                at: Voltage::from_volts(1.01),
            },
        ],
    }
}

/// Cameras of which one has no energy at all and one uses each part.
pub(super) fn budgets(cameras: usize) -> Budget {
    let parts = [
        "standby",
        "day pictures",
        "night pictures",
        "flash",
        "video",
        "upload session",
        "upload data",
        "reports",
        "lost in cells",
        "self-discharge",
        "left in cells",
    ];
    let camera = |place: usize| CameraBudget {
        name: format!("camera {place} with a name that is as long as a name may be"),
        days: 150.0 - place as f64,
        outlives: place == 0,
        parts: parts
            .iter()
            .zip(1..)
            .map(|(part, wh)| (*part, f64::from(wh) * place as f64))
            .collect(),
    };
    Budget {
        title: "Upper creek: what uses the charge".to_owned(),
        panels: cameras > 1,
        cameras: (0..cameras).map(camera).collect(),
    }
}

/// Curves close to each other, one that never rises, and that of the line.
pub(super) fn risks(cameras: usize) -> Risks {
    let curve = |name: String, days: f64| RiskCurve {
        name,
        by_day: (0..=151)
            .map(|day| ((f64::from(day) - days) / 20.0).clamp(0.0, 1.0))
            .collect(),
        latest: "back by 13 Dec 2026".to_owned(),
        latest_days: Some(days as u32),
    };
    let many = (0..cameras).map(|place| curve(format!("camera {place}"), 90.0 - place as f64));
    Risks {
        title: "Upper creek: risk of lost pictures".to_owned(),
        start: time::macros::date!(2026 - 11 - 01),
        risk: 0.05,
        any: curve("any camera".to_owned(), 60.0),
        cameras: many.chain([curve("lasting".to_owned(), 200.0)]).collect(),
    }
}

pub(super) fn every_kind() -> Vec<Picture> {
    let mut pictures = vec![
        three_cameras(SEASON),
        three_sampled(SEASON),
        compare(&comparison(3)),
        discharge(&curves()),
        budget(&budgets(3)),
        revisit(&risks(5)),
        sun_at(46.5, SEASON, &[90, 100, 350]),
        solar(&solar::tests::line(3)),
    ];
    pictures.extend(sweep::tests::pictures());
    pictures
}
