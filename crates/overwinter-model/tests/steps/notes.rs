//! What is noted of a season: when something first happened, and what fails under which voltage.

use overwinter_model::cell::Cell;
use overwinter_model::cell::catalogue::find;
use overwinter_model::draw::CheckIn;
use overwinter_model::harvest::{ChargeLimit, Store};
use overwinter_model::season::{Camera, Cause, Ending, Feeds, Outcome, Scenario, Task};
use overwinter_model::{Energy, Power, Time, Voltage};

use crate::{hour, scenario};

fn alkaline() -> Cell {
    find("alkaline-aa").expect("it is of the catalogue").cell
}

/// How it stands after each of so many hours, in none of which it dies.
fn after_each_hour(scenario: &Scenario, hours: usize) -> Vec<Outcome> {
    let mut camera = Camera::new(scenario);
    let quiet = hour(10.0, 0.0, 1.0, 0.0);
    let mut outcomes = Vec::new();
    for _ in 0..hours {
        assert!(camera.hour(&quiet, 1, &mut |_| {}).is_continue());
        outcomes.push(*camera.so_far());
    }
    outcomes
}

/// 1.05 Wh run 0.1 W for ten hours and a half. So it is in the eleventh hour that the pack has to help.
#[test]
fn a_store_is_empty_once() {
    let mut scenario = scenario(&alkaline());
    scenario.draw.standby = Power::from_watts(0.1);
    scenario.draw.night_trigger = Default::default();
    scenario.draw.upload = None;
    scenario.feeds = Some(Feeds::Store(Store {
        capacity: Energy::from_watt_hours(1.05),
        charge_efficiency: 1.0,
        limit: ChargeLimit::default(),
        lag: Time::ZERO,
        self_discharge_per_month: 0.0,
        weak_below: None,
    }));
    for (number, outcome) in (1..).zip(after_each_hour(&scenario, 20)) {
        let empty = outcome.ends[Ending::Store];
        assert_eq!(empty.is_some(), number >= 11, "{number} {empty:?}");
        if let Some(empty) = empty {
            let off = empty.after.as_hours() - 10.0;
            assert!(
                empty.cause == Cause::StoreEmpty && off.abs() < 1e-9,
                "{empty:?}"
            );
            assert_eq!(empty.voltage, None);
        }
    }
}

/// A cell's floor is noted the first time that it is driven under it, and never again.
#[test]
fn the_weakest_cell_is_under_its_floor_from_some_time_on() {
    let under_at = |share: f64| {
        let cell = alkaline();
        let mut scenario = scenario(&Cell {
            floor: cell.open_circuit.at(0.0) * share,
            ..cell
        });
        scenario.draw.standby = Power::from_watts(0.05);
        let outcomes = after_each_hour(&scenario, 100).into_iter();
        outcomes
            .map(|outcome| outcome.under_floor)
            .collect::<Vec<_>>()
    };
    assert_eq!(under_at(0.1), [None; 100]);
    assert_eq!(under_at(1.1), [Some(Time::ZERO); 100]);
    let some = under_at(0.9);
    let first = some
        .iter()
        .position(Option::is_some)
        .expect("it gets there");
    assert!((5..95).contains(&first), "{first}");
    let at = some[first].expect("it is the first");
    // At the end of the hour, or at the start of it.
    assert!(at.as_hours() > first as f64 - 1e-9 && at.as_hours() < first as f64 + 1.0 + 1e-9);
    assert!(
        some[first..].iter().all(|later| *later == Some(at)),
        "{some:?}"
    );
}

/// What a camera cannot do under which voltage, and what it dies of where the cut-off lies higher.
#[test]
fn each_task_has_its_voltage_and_its_cause() {
    let volts = Voltage::from_volts;
    let mut draw = scenario(&alkaline()).draw;
    (draw.cut_off, draw.flash_lowest) = (volts(8.0), volts(9.0));
    if let Some(upload) = &mut draw.upload {
        upload.lowest = volts(7.0);
    }
    draw.check_in = Some(CheckIn {
        per_day: 1.0,
        event: draw.day_trigger.clone(),
        lowest: volts(10.0),
    });
    for (task, lowest, cause) in [
        (Task::DayTrigger, 8.0, Cause::VoltageUnderPicture),
        (Task::NightTrigger, 9.0, Cause::VoltageUnderFlash),
        (Task::Session, 7.0, Cause::VoltageUnderUpload),
        (Task::CheckIn, 10.0, Cause::VoltageUnderUpload),
    ] {
        assert_eq!(
            (task.lowest(&draw.limits()), task.cause(&draw)),
            (volts(lowest), cause)
        );
    }
    // A flash cannot be lit by a camera that is off; and one without light fails as a picture does.
    draw.flash_lowest = volts(6.0);
    draw.night_trigger = draw.day_trigger.clone();
    let night = Task::NightTrigger;
    assert_eq!(
        (night.lowest(&draw.limits()), night.cause(&draw)),
        (volts(8.0), Cause::VoltageUnderPicture)
    );
    (draw.upload, draw.check_in) = (None, None);
    assert_eq!(Task::Session.lowest(&draw.limits()), Voltage::ZERO);
    assert_eq!(Task::CheckIn.lowest(&draw.limits()), Voltage::ZERO);
}
