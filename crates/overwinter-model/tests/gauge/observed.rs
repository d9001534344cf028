//! What readings do to the depth, held against a camera that is what it is.

use overwinter_model::cell::catalogue::CATALOGUE;
use overwinter_model::cell::{CellState, Specimen, Wells};
use overwinter_model::gauge::{Correction, Gauge, Passed, UnderLoad};
use overwinter_model::installation::{Air, Installation};
use overwinter_model::pack::Pack;
use overwinter_model::season::Camera;
use overwinter_model::{Load, Power, Temperature, Voltage};
use proptest::prelude::*;

use crate::cases::{Case, case};
use crate::installations::sample;

/// A camera without a panel in constant air.
fn camera(case: &Case) -> Installation {
    Installation {
        scenario: case.scenario(1.0),
        air: Air::Constant(Temperature::from_celsius(case.mean_c)),
        sunlight: None,
        days: 60,
        ..sample()
    }
}

/// A quiet camera with eight small cells, or what comes to as much.
fn quiet(cell: usize, mean_c: f64) -> Case {
    Case {
        cell,
        series: if CATALOGUE[cell].cell.in_series > 1 {
            1
        } else {
            4
        },
        parallel: 1,
        standby_mw: 1.0,
        flash_w: 2.0,
        shot_w: 0.5,
        video_s: 0.0,
        triggers_per_hour: 0.2,
        cut_off_share: 0.4,
        mean_c,
        swing_c: 0.0,
        uploads: false,
    }
}

/// The voltage of a pack asleep or under a load, as the model has it.
fn voltage(camera: &Camera<'_>, pack: &Pack, air: Temperature, load: Power) -> Option<Voltage> {
    let cells = camera.state().cells;
    let at = pack.at(air);
    let circuit = at.string_circuit(&cells);
    let polarisation = at.polarisation(&cells);
    let load = Load::Power(load / f64::from(pack.parallel()));
    let current = circuit.current(load, &polarisation)?;
    Some(circuit.voltage(current, &polarisation))
}

fn used(one: Specimen<'_>, depth: f64) -> CellState {
    let left = one.capacity() * (1.0 - depth);
    CellState {
        wells: Wells::level(left, one.cell().kinetics.available_share),
        ..one.full()
    }
}

/// What a gauge says after readings of a camera that began at another depth.
struct Found {
    true_depth: f64,
    depth: f64,
    sd: f64,
}

/// Readings asleep every six hours, from a meter that shows `off_v` too much for each cell; `None` if
/// the camera dies meanwhile.
fn found(case: &Case, true_start: f64, readings: u32, off_v: f64) -> Option<Found> {
    let believed = camera(case);
    let mut truth = believed.clone();
    let pack = truth.scenario.pack;
    truth.scenario.start.ordinary = used(pack.cell().specimen(), true_start);
    truth.scenario.start.weakest = used(pack.weakest(), true_start);
    let air = Temperature::from_celsius(case.mean_c);
    let mut hours = truth.hours();
    let mut real = Camera::new(&truth.scenario);
    let mut gauge = Gauge::new(&believed, 1);
    for _ in 0..readings {
        for hour in hours.by_ref().take(6) {
            if real.hour(&hour, 1, &mut |_| {}).is_break() {
                return None;
            }
        }
        gauge.pass(&Passed::unseen(6)).unwrap();
        let asleep = voltage(&real, &pack, air, truth.scenario.draw.standby).unwrap();
        let shown = asleep + Voltage::from_volts(off_v * f64::from(pack.cells_in_series()));
        gauge.observe(air, UnderLoad::Asleep, shown).unwrap();
    }
    Some(Found {
        true_depth: pack.depth(&real.state().cells),
        depth: gauge.depth(),
        sd: gauge.depth_sd(),
    })
}

fn index(name: &str) -> usize {
    CATALOGUE.iter().position(|cell| cell.name == name).unwrap()
}

/// Cells whose curve slopes by 0.3 V and more from full to empty between 10 and 70 %.
const SLOPED: [&str; 4] = [
    "alkaline-aa",
    "alkaline-c",
    "alkaline-d",
    "lithium-ion-18650",
];
const FLAT: [&str; 2] = ["lithium-aa", "lfp-18650"];

#[test]
fn a_sloped_curve_tells_the_depth() {
    for name in SLOPED {
        for start in [0.2, 0.4, 0.6] {
            let found = found(&quiet(index(name), 10.0), start, 12, 0.0).unwrap();
            let off = (found.depth - found.true_depth).abs();
            assert!(off < 0.05, "{name} at {start}: {off}");
        }
    }
}

#[test]
fn a_flat_curve_does_not() {
    for name in FLAT {
        for start in [0.4, 0.5, 0.6] {
            let found = found(&quiet(index(name), 10.0), start, 12, 0.0).unwrap();
            assert!(found.sd > 0.07, "{name} at {start}: {}", found.sd);
            let off = (found.depth - found.true_depth).abs();
            assert!(off < 2.5 * found.sd, "{name} at {start}: {off}");
        }
    }
}

#[test]
fn one_wrong_reading_moves_nothing() {
    let camera = camera(&quiet(index("alkaline-aa"), 10.0));
    let air = Temperature::from_celsius(10.0);
    let mut gauge = Gauge::new(&camera, 1);
    gauge.pass(&Passed::unseen(48)).unwrap();
    let before = gauge.depth();
    let wrong = camera.scenario.pack.fresh_voltage() * 0.5;
    let done = gauge.observe(air, UnderLoad::Asleep, wrong).unwrap();
    assert_eq!((done, gauge.depth()), (Correction::Doubted, before));
    let done = gauge.observe(air, UnderLoad::Asleep, wrong).unwrap();
    assert_eq!(done, Correction::FoundAnew);
    assert!(gauge.depth() > 0.9, "{}", gauge.depth());
}

proptest! {
    #[test]
    fn the_models_own_voltages_keep_it_where_it_is(
        case in case(), every in 1..12_u32, readings in 1..30_u32, watts in prop::option::of(0.0..1.0_f64),
    ) {
        let camera = camera(&case);
        let pack = &camera.scenario.pack;
        let air = Temperature::from_celsius(case.mean_c);
        let mut hours = camera.hours();
        let mut real = Camera::new(&camera.scenario);
        let mut gauge = Gauge::new(&camera, 1);
        for _ in 0..readings {
            for hour in hours.by_ref().take(every as usize) {
                // Dead ones read nothing.
                prop_assume!(real.hour(&hour, 1, &mut |_| {}).is_continue());
            }
            gauge.pass(&Passed::unseen(every)).unwrap();
            let scale = f64::from(pack.cells_in_series()) / 8.0;
            let given = watts.map(|watts| Power::from_watts(watts * scale));
            let load = given.unwrap_or(camera.scenario.draw.standby);
            let Some(shown) = voltage(&real, pack, air, load) else { return Ok(()) };
            let under = given.map_or(UnderLoad::Asleep, UnderLoad::Power);
            prop_assume!(shown >= camera.scenario.draw.cut_off);
            let done = gauge.observe(air, under, shown).unwrap();
            prop_assert_eq!(done, Correction::Taken);
            let off = (gauge.depth() - pack.depth(&real.state().cells)).abs();
            // Nothing is known better than to half a per cent.
            prop_assert!(off <= gauge.depth_sd() + 0.005, "{} beside {}", off, gauge.depth_sd());
        }
    }

    #[test]
    fn no_gauge_is_far_surer_than_it_is_right(
        cell in 0..CATALOGUE.len(), mean_c in -15.0..30.0_f64, readings in 2..60_u32,
        // Other cells than it was told, or a model that is off, but not both.
        (start, off_v) in prop_oneof![
            (0.0..0.9_f64, Just(0.0)),
            (0.0..0.1_f64, -0.02..0.02_f64),
        ],
    ) {
        let Some(found) = found(&quiet(cell, mean_c), start, readings, off_v) else { return Ok(()) };
        let off = (found.depth - found.true_depth).abs();
        prop_assert!(off <= 3.5 * found.sd, "{} beside {}", off, found.sd);
    }

    #[test]
    fn anything_measured_is_taken_or_refused(
        case in case(), hours in 0..40_u32,
        readings in prop::collection::vec((any::<f64>(), any::<f64>(), any::<f64>(), any::<bool>()), 1..5),
        volts in prop::collection::vec((0.0..40.0_f64, -60.0..60.0_f64, 0.0..50.0_f64), 1..10),
    ) {
        let camera = camera(&case);
        let mut gauge = Gauge::new(&camera, 1);
        let bound = volts.iter().map(|(volts, air, watts)| (*volts, *air, *watts, true));
        for (volts, air, watts, loaded) in readings.into_iter().chain(bound) {
            gauge.pass(&Passed::unseen(hours)).unwrap();
            let load = if loaded { UnderLoad::Power(Power::from_watts(watts)) } else { UnderLoad::Asleep };
            let _ = gauge.observe(Temperature::from_celsius(air), load, Voltage::from_volts(volts));
            prop_assert!((0.0..=1.0).contains(&gauge.depth()), "{}", gauge.depth());
            prop_assert!((0.004..=0.29).contains(&gauge.depth_sd()), "{}", gauge.depth_sd());
        }
    }
}
