//! How often a camera does what in an hour, and what it used for it.

use overwinter_model::cell::catalogue::{CATALOGUE, find};
use overwinter_model::cell::{Branch, CellState, Wells};
use overwinter_model::draw::{Card, Upload, UploadMode, Use};
use overwinter_model::pack::{Pack, PackState};
use overwinter_model::season::{Camera, Cause, Ending, Hour, Scenario, Seen, hours_of_day};
use overwinter_model::{
    AirOfDay, BRANCHES, Charge, HourRate, Overpotential, Power, Temperature, Time, Voltage,
};
use proptest::prelude::*;

use crate::cases::camera::{Full, Sends, full};
use crate::{close, hour, scenario, through};

const HOUR: Time = Time::from_hours(1.0);

/// Cells that have just been loaded: they stand low, and recover.
fn exhausted(pack: &Pack) -> PackState {
    let share = pack.cell().kinetics.available_share;
    let cell = |capacity: Charge| CellState {
        wells: Wells {
            available: capacity * (share * 0.05),
            bound: capacity * ((1.0 - share) * 0.9),
        },
        ..pack.cell().full()
    };
    PackState {
        ordinary: cell(pack.cell().capacity),
        weakest: cell(pack.weakest().capacity()),
    }
}

/// What a camera has counted and used.
fn counted(camera: &Camera<'_>) -> Vec<(String, f64)> {
    let (outcome, state) = (camera.so_far(), camera.state());
    let mut counted = vec![
        ("triggers".to_owned(), outcome.triggers),
        ("night pictures".to_owned(), camera.night_pictures()),
        ("kept".to_owned(), outcome.kept),
        ("on the card".to_owned(), state.card_mb),
        ("waiting".to_owned(), state.waiting_pictures),
    ];
    let used = outcome.ledger.used.iter();
    counted.extend(used.map(|(what, energy)| (format!("{what:?}"), energy.as_joules())));
    counted
}

/// A step takes the mean of what its start and its end ask for, and the start asks for nothing.
#[test]
fn an_hour_that_begins_too_low_and_ends_high_enough_is_half_an_hour() {
    let mut cell = find("alkaline-aa").expect("it is of the catalogue").cell;
    // So that more comes back within the hour than a picture pulls the voltage down.
    cell.kinetics.rate_per_second = 4e-4;
    cell.branches = [Branch::NONE; BRANCHES];
    cell.overpotential = Overpotential::NONE;
    let mut scenario = scenario(&cell);
    scenario.start = exhausted(&scenario.pack);
    let hour = hour(20.0, 2.0, 3.0, 0.0);
    let whole = counted(&through(&scenario, &hour).0);
    // As low as this at the start, and as high at the end.
    scenario.draw.cut_off = Voltage::from_volts(1000.0);
    let (_, seen) = through(&scenario, &hour);
    let [start, end] = [seen[0].asleep, seen[1].asleep];
    assert!(start < end * 0.99, "{start:?} {end:?}");

    scenario.draw.cut_off = (start + end) * 0.5;
    let (half, _) = through(&scenario, &hour);
    let began = half.so_far().ends[Ending::Camera].expect("it is too low at first");
    assert_eq!(began.cause, Cause::VoltageAsleep);
    for ((what, whole), (_, half)) in whole.into_iter().zip(counted(&half)) {
        assert!(
            (half - 0.5 * whole).abs() <= 1e-12 * whole,
            "{what} {half} {whole}"
        );
    }
    assert!(half.night_pictures() > 1.0 && half.state().card_mb > 3.0);
}

/// The same of a flash that is bright enough at the start of an hour and too dim at its end.
#[test]
fn a_flash_that_fails_within_an_hour_leaves_half_its_triggers_dark() {
    let mut scenario = scenario(&find("alkaline-aa").expect("it is of the catalogue").cell);
    scenario.draw.upload = None;
    scenario.draw.flash_lowest = scenario.pack.fresh_voltage() * 0.8;
    let night = hour(5.0, 0.0, 3.0, 0.0);
    let mut camera = Camera::new(&scenario);
    let mut dark = Vec::new();
    let mut first_failed_at = None;
    while dark.len() < 24 {
        let before = (camera.so_far().followed, camera.so_far().dark_triggers);
        assert!(camera.hour(&night, 1, &mut |_| {}).is_continue());
        let Some(lost) = camera.so_far().ends[Ending::NightPictures] else {
            continue;
        };
        first_failed_at.get_or_insert(lost.after - before.0);
        dark.push(camera.so_far().dark_triggers - before.1);
    }
    // It holds at the start of the first.
    assert_eq!(first_failed_at, Some(HOUR));
    let (answered, _) = scenario.draw.answered(3.0, 0.0);
    assert!((dark[0] - 0.5 * answered).abs() < 1e-9, "{dark:?}");
    assert!((dark[23] - answered).abs() < 1e-9, "{dark:?}");
}

/// How often it does what, with the last hour that it outlives: in the hour of a death nothing comes to
/// wait for a session any more.
struct Life<'a> {
    camera: Camera<'a>,
    died: bool,
    sent_or_waiting: f64,
    to_be_sent: f64,
    last: Option<Seen>,
}

fn live<'a>(full: &Full, scenario: &'a Scenario, hours: &[Hour]) -> Life<'a> {
    let mut life = Life {
        camera: Camera::new(scenario),
        died: false,
        sent_or_waiting: 0.0,
        to_be_sent: 0.0,
        last: None,
    };
    let last = &mut life.last;
    for hour in hours {
        if life
            .camera
            .hour(hour, 1, &mut |seen| *last = Some(*seen))
            .is_break()
        {
            life.died = true;
            break;
        }
        let outcome = life.camera.so_far();
        if let Some(upload) = &scenario.draw.upload {
            let sent = outcome.ledger.used.get(Use::UploadData)
                / (upload.picture.power * upload.picture.span);
            life.sent_or_waiting = sent + life.camera.state().waiting_pictures;
            life.to_be_sent = outcome.triggers * full.sent_per_trigger;
        }
    }
    life
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(60))]

    /// To the moment at which a cell runs empty, wherever in a step that is.
    #[test]
    fn counts_and_uses_are_those_of_a_camera_as_long_as_it_lived(full in full(), runs_empty in any::<bool>()) {
        let full = Full { has_panel: false, card_mb: None, ..full };
        let mut scenario = full.scenario(1.0);
        scenario.draw.card = Some(Card { capacity_mb: 1e12, day_trigger_mb: 2.0, night_trigger_mb: 3.0 });
        if runs_empty {
            scenario.draw.cut_off = Voltage::ZERO;
        }
        let hours: Vec<Hour> = full.sunny.case.hours().collect();
        let life = live(&full, &scenario, &hours);
        let outcome = life.camera.so_far();
        let standby = outcome.ledger.used.get(Use::Standby);
        close(standby.as_joules(), (scenario.draw.standby * outcome.followed).as_joules())?;
        let by_night = life.camera.night_pictures() + outcome.dark_triggers;
        let written_mb = 2.0 * (outcome.triggers - by_night) + 3.0 * by_night;
        close(life.camera.state().card_mb, written_mb)?;
        if matches!(full.sends, Sends::Daily(_) | Sends::Each) {
            close(life.sent_or_waiting, life.to_be_sent)?;
        }
        let (seen, cells) = (life.last.expect("an hour is seen"), *life.camera.cells());
        let outcome = life.camera.finish();
        prop_assert_eq!(outcome.charge_left.to_bits(), seen.charge_left.to_bits());
        let left = 1.0 - scenario.pack.cell().depth(&cells.ordinary);
        prop_assert_eq!(outcome.charge_left.to_bits(), left.to_bits());
        prop_assert_eq!(life.died, outcome.ends[Ending::Camera].is_some());
    }
}

#[test]
fn what_waits_is_sent_in_one_session_and_what_comes_meanwhile_waits() {
    let upload = scenario(&CATALOGUE[0].cell)
        .draw
        .upload
        .expect("it uploads");
    let daily = upload.sending(4.0, 7.0, 0.25);
    assert_eq!(
        (daily.sessions, daily.pictures, daily.left_waiting),
        (0.25, 7.0, 6.0)
    );
    let nothing = upload.sending(4.0, 0.0, 0.25);
    assert_eq!((nothing.sessions, nothing.left_waiting), (0.0, 6.0));
    let each = Upload {
        mode: UploadMode::Each,
        ..upload
    }
    .sending(4.0, 7.0, 0.25);
    assert_eq!(
        (each.sessions, each.pictures, each.left_waiting),
        (4.0, 1.5, 0.0)
    );
}

/// A quarter of four triggers comes by night, in a half of the hour.
#[test]
fn an_hours_triggers_come_by_day_and_by_night() {
    let rate = HourRate {
        per_hour: 4.0,
        false_per_hour: 1.0,
        night_share: 0.25,
        dark_share: 0.5,
    };
    let air = AirOfDay {
        hours: std::array::from_fn(|hour| Temperature::from_celsius(hour as f64)),
        below_k: 3.0,
    };
    let panel = std::array::from_fn(|hour| Power::from_watts(hour as f64));
    for (number, hour) in hours_of_day(&[rate; 24], &air, &panel).iter().enumerate() {
        assert_eq!(
            (hour.day_triggers, hour.night_triggers, hour.dark_share),
            (3.0, 1.0, 0.5)
        );
        assert_eq!((hour.of_day, hour.panel), (number as u8, panel[number]));
        let colder = hour.air.as_celsius() - hour.coldest.as_celsius();
        assert!(
            hour.air == air.hours[number] && (colder - 3.0).abs() < 1e-9,
            "{hour:?}"
        );
    }
}
