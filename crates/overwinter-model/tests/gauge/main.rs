//! The gauge: it is the season until it sees something, and what it sees it takes for what it is worth.

#[path = "../cases/mod.rs"]
mod cases;
#[path = "../blob/installations.rs"]
#[allow(dead_code, reason = "each test program uses its part of it")]
mod installations;
mod observed;
mod saved;

use installations::{installation, sample};
use overwinter_model::gauge::{Answered, Forecast, Gauge, GaugeError, Passed, UnderLoad};
use overwinter_model::installation::Installation;
use overwinter_model::pack::{MAX_CELLS, Pack};
use overwinter_model::season::{Ending, Feeds, Outcome, run};
use overwinter_model::{Temperature, Voltage};
use proptest::prelude::*;

/// Short, so that a few hundred of them can be run by the hour.
const LONGEST_DAYS: u16 = 12;

prop_compose! {
    pub(crate) fn short()(installation in installation(), days in 1..=LONGEST_DAYS) -> Installation {
        Installation { days, ..installation }
    }
}

prop_compose! {
    /// With so many cells that none of it ends one: an hour whose camera the model has seen off is not
    /// drawn to its end.
    fn lasting()(mut installation in short()) -> Installation {
        let scenario = &mut installation.scenario;
        let pack = &scenario.pack;
        scenario.pack = Pack::new(pack.cell(), pack.series(), MAX_CELLS).unwrap();
        scenario.start = scenario.pack.full();
        scenario.draw.cut_off = Voltage::ZERO;
        installation
    }
}

fn season(installation: &Installation) -> (Outcome, Option<f64>) {
    let mut store_left = None;
    let outcome = run(&installation.scenario, installation.hours(), 1, |seen| {
        store_left = seen.store_left;
    });
    (outcome, store_left)
}

/// Whole hours that the camera lives through.
fn lived(outcome: &Outcome) -> u32 {
    outcome.followed.as_hours() as u32
}

proptest! {
    #[test]
    fn without_readings_it_is_the_season(
        installation in short(), share in 0.0..=1.0_f64, pieces in 1..40_u32, slice in 1..50_u32,
    ) {
        let (outcome, store_left) = season(&installation);
        let mut gauge = Gauge::new(&installation, 7);
        let passed = (f64::from(lived(&outcome)) * share) as u32;
        while gauge.hour() < passed {
            let hours = pieces.min(passed - gauge.hour());
            gauge.pass(&Passed::unseen(hours)).unwrap();
        }
        let mut forecast = gauge.forecast(u32::MAX);
        while forecast.advance(slice) {}
        prop_assert_eq!(forecast.end(), outcome.ends[Ending::Camera].as_ref());
        let hours = (outcome.followed.as_seconds() - f64::from(passed) * 3600.0) / 3600.0;
        prop_assert_eq!(forecast.hours_left().to_bits(), hours.to_bits());
        if outcome.ends[Ending::Camera].is_none() {
            gauge.pass(&Passed::unseen(u32::from(installation.days) * 24 - passed)).unwrap();
            prop_assert_eq!((1.0 - gauge.depth()).to_bits(), outcome.charge_left.to_bits());
            let store = match (installation.scenario.feeds, gauge.state().store) {
                (Some(Feeds::Store(store)), Some(state)) => Some(state.held / store.capacity),
                _ => None,
            };
            prop_assert_eq!(store.map(f64::to_bits), store_left.map(f64::to_bits));
            prop_assert!(gauge.forecast(u32::MAX).is_done());
        }
    }

    #[test]
    fn night_pictures_are_the_answered_triggers_that_had_their_light(installation in short()) {
        let (outcome, _) = season(&installation);
        prop_assume!(outcome.ends[Ending::Camera].is_none());
        let draw = &installation.scenario.draw;
        let by_night: f64 = installation
            .hours()
            .map(|hour| {
                let clock = draw.scheduled_per_day / 24.0 * hour.dark_share;
                draw.answered(hour.day_triggers, hour.night_triggers).1 + clock
            })
            .sum();
        let gauge = Gauge::new(&installation, 7);
        let mut forecast = gauge.forecast(u32::MAX);
        while forecast.advance(100) {}
        let expected = by_night - outcome.dark_triggers;
        let pictures = forecast.night_pictures_left();
        prop_assert!((pictures - expected).abs() < 1e-9 * by_night.max(1.0), "{} {}", pictures, expected);
    }

    #[test]
    fn counted_triggers_are_those_that_are_answered(
        installation in lasting(), before in 0..48_u32, hours in 1..60_u32,
        by_day in 0..20_u32, by_night in 0..20_u32,
    ) {
        // So many that the camera could not answer them are not meant here.
        let draw = &installation.scenario.draw;
        let busy = (draw.day_trigger.length() + draw.quiet).as_hours() * f64::from(by_day)
            + (draw.night_trigger.length() + draw.quiet).as_hours() * f64::from(by_night);
        prop_assume!(busy < 0.9);
        let Some(card) = draw.card else { return Ok(()) };
        let mut gauge = Gauge::new(&installation, 7);
        gauge.pass(&Passed::unseen(before)).unwrap();
        let at_start = gauge.state().card_mb;
        let clock: f64 = draw.scheduled_per_day / 24.0;
        let dark: f64 = hours_of(&installation, before, hours).iter().map(|hour| hour.dark_share).sum();
        let answered = Some(Answered { by_day, by_night });
        let passed = Passed { answered, ..Passed::unseen(hours) };
        gauge.pass(&passed).unwrap();
        let light = f64::from(hours) - dark;
        let expected = card.written_mb(
            f64::from(by_day) + clock * light,
            f64::from(by_night) + clock * dark,
        );
        let written = gauge.state().card_mb - at_start;
        let off = (written - expected).abs();
        prop_assert!(off <= 1e-9 * (expected + at_start), "{} {}", written, expected);
    }

    #[test]
    fn a_measured_temperature_is_the_mean_of_the_hours(
        installation in lasting(), before in 0..48_u32, hours in 1..60_u32,
    ) {
        let mean = hours_of(&installation, before, hours).iter().map(|hour| hour.air.as_celsius()).sum::<f64>()
            / f64::from(hours);
        let mut told = Gauge::new(&installation, 7);
        told.pass(&Passed::unseen(before)).unwrap();
        let mut untold = told.clone();
        let air = Some(Temperature::from_celsius(mean));
        told.pass(&Passed { air, ..Passed::unseen(hours) }).unwrap();
        untold.pass(&Passed::unseen(hours)).unwrap();
        // Ageing goes by the temperature of every hour.
        let age = |gauge: &Gauge<'_>| gauge.state().cells.weakest.age;
        prop_assert!((age(&told) / age(&untold) - 1.0).abs() < 1e-9);
        if let (Some(told), Some(untold)) = (told.state().warmth, untold.state().warmth) {
            prop_assert!((told.as_kelvin() - untold.as_kelvin()).abs() < 1e-6);
        }
        let store = |gauge: &Gauge<'_>| gauge.state().store.map(|store| store.pack.as_kelvin());
        if let (Some(told), Some(untold)) = (store(&told), store(&untold)) {
            prop_assert!((told - untold).abs() < 1e-6, "{} {}", told, untold);
        }
    }

    #[test]
    fn what_cannot_be_is_refused_and_moves_nothing(
        installation in short(), hours in 0..30_u32,
        value in prop_oneof![
            Just(f64::NAN), Just(f64::INFINITY), Just(f64::NEG_INFINITY), Just(-1.0), Just(0.0),
            Just(1e9),
        ],
    ) {
        let mut gauge = Gauge::new(&installation, 7);
        gauge.pass(&Passed::unseen(hours)).unwrap();
        let before = format!("{gauge:?}");
        let mild = Temperature::from_celsius(5.0);
        let volts = installation.scenario.pack.fresh_voltage();
        let refused = [
            gauge.observe(mild, UnderLoad::Asleep, Voltage::from_volts(value)).err(),
            gauge.observe(Temperature::from_kelvin(value), UnderLoad::Asleep, volts).err(),
            gauge.pass(&Passed { air: Some(Temperature::from_kelvin(value)), ..Passed::unseen(3) }).err(),
            gauge.pass(&Passed::unseen(u32::MAX)).err(),
        ];
        for (at, why) in refused.iter().enumerate() {
            let right = match why {
                Some(GaugeError::OutOfRange(_)) => at < 3,
                Some(GaugeError::TooLate { .. }) => at == 3,
                _ => false,
            };
            prop_assert!(right, "{} gives {:?}", at, why);
        }
        if !(0.0..=1e3).contains(&value) {
            let load = UnderLoad::Power(overwinter_model::Power::from_watts(value));
            prop_assert!(gauge.observe(mild, load, volts).is_err());
        }
        prop_assert_eq!(format!("{gauge:?}"), before);
    }

    #[test]
    fn a_forecast_keeps_to_its_hours(installation in short(), most in 0..100_u32) {
        let gauge = Gauge::new(&installation, 7);
        let mut forecast = gauge.forecast(most);
        let mut slices = 0;
        while forecast.advance(1) {
            slices += 1;
        }
        prop_assert!(slices < most.max(1));
        prop_assert!(forecast.hours_left() <= f64::from(most));
        prop_assert!(forecast.is_done());
    }
}

/// Hours after so many, beyond the season's end too.
fn hours_of(
    installation: &Installation,
    before: u32,
    hours: u32,
) -> Vec<overwinter_model::season::Hour> {
    let longer = Installation {
        days: ((before + hours) / 24 + 1) as u16,
        ..installation.clone()
    };
    let hours = longer.hours().skip(before as usize).take(hours as usize);
    hours.collect()
}

/// On a machine of 64 bits, whose references take twice the room. The blob's content, which both
/// borrow, is apart.
#[test]
fn a_small_device_has_room() {
    let gauge = size_of::<Gauge<'_>>();
    let forecast = size_of::<Forecast<'_>>();
    assert!(gauge <= 256, "{gauge}");
    assert!(forecast <= 2560, "{forecast}");
    assert!(gauge + forecast <= 4096);
}

#[test]
fn a_gauge_outlives_the_end_that_the_model_sees() {
    let mut weak = sample();
    weak.scenario.feeds = None;
    weak.scenario.draw.cut_off = weak.scenario.pack.fresh_voltage() * 2.0;
    let mut gauge = Gauge::new(&weak, 7);
    gauge.pass(&Passed::unseen(100)).unwrap();
    assert_eq!(gauge.hour(), 100);
    let mut forecast = gauge.forecast(100);
    assert!(!forecast.advance(1));
    assert!(forecast.end().is_some());
}
