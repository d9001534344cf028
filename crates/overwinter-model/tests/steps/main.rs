//! What a step of the mean season counts and books: sums over its hours worked out another way, and
//! numbers by hand.

#[path = "../cases/mod.rs"]
mod cases;

mod charged;
mod counts;
mod notes;

use overwinter_model::cell::Cell;
use overwinter_model::draw::{Burst, Card, Draw, Event, Upload, UploadMode, Use};
use overwinter_model::pack::Pack;
use overwinter_model::season::{Camera, Hour, Scenario, Seen};
use overwinter_model::{Power, Temperature, Time, Voltage};
use proptest::prelude::*;

fn hour(celsius: f64, day_triggers: f64, night_triggers: f64, panel_w: f64) -> Hour {
    let air = Temperature::from_celsius(celsius);
    Hour {
        of_day: 0,
        air,
        coldest: air,
        day_triggers,
        night_triggers,
        dark_share: 0.5,
        panel: Power::from_watts(panel_w),
    }
}

fn burst(seconds: f64, watts: f64, what: Use, flash_w: f64) -> Burst {
    Burst {
        span: Time::from_seconds(seconds),
        power: Power::from_watts(watts),
        what,
        flash: Power::from_watts(flash_w),
    }
}

fn event(burst: Burst) -> Event {
    let mut event = Event::default();
    event.push(burst).expect("it has room for one");
    event
}

/// Eight cells of this kind behind a camera that takes pictures and sends those of a day together.
fn scenario(cell: &Cell) -> Scenario {
    let pack = Pack::new(cell, 8, 1).expect("eight cells are a pack");
    Scenario {
        start: pack.full(),
        pack,
        draw: Draw {
            standby: Power::from_milliwatts(2.0),
            day_trigger: event(burst(1.0, 0.5, Use::DayPictures, 0.0)),
            night_trigger: event(burst(1.0, 0.5, Use::NightPictures, 1.0)),
            scheduled_per_day: 0.0,
            quiet: Time::ZERO,
            check_in: None,
            cut_off: Voltage::ZERO,
            flash_lowest: Voltage::ZERO,
            upload: Some(Upload {
                mode: UploadMode::Daily { hour: 12 },
                session: burst(20.0, 0.5, Use::UploadSession, 0.0),
                picture: burst(1.0, 1.0, Use::UploadData, 0.0),
                pictures_per_trigger: 1.5,
                lowest: Voltage::ZERO,
            }),
            card: Some(Card {
                capacity_mb: 1e9,
                day_trigger_mb: 2.0,
                night_trigger_mb: 1.0,
            }),
        },
        feeds: None,
    }
}

/// Follows a camera that is known to be alive through one hour.
fn through<'a>(scenario: &'a Scenario, hour: &Hour) -> (Camera<'a>, Vec<Seen>) {
    let mut camera = Camera::new(scenario);
    camera.outlive();
    let mut seen = Vec::new();
    assert!(camera.hour(hour, 1, &mut |it| seen.push(*it)).is_continue());
    (camera, seen)
}

fn close(a: f64, b: f64) -> Result<(), TestCaseError> {
    prop_assert!((a - b).abs() <= 1e-9 * a.abs().max(b.abs()), "{a} {b}");
    Ok(())
}
