//! Whether a camera runs on its pack at all.

use std::ops::Range;

use overwinter_model::{Load, Temperature, Voltage};

use super::camera::Merged;
use super::file::CameraKeys;
use super::{Camera, PackChoice};
use crate::keys::{Reader, plain};
use crate::problem::Problem;

/// Refuses a pack that the camera's input cannot stand, that cannot start it in a warm room, or
/// that falls below its cut-off with more than half of its charge still in.
pub(super) fn check(reader: &mut Reader, camera: &Camera, own: &CameraKeys, merged: &Merged) {
    let Ok((pack, _)) = camera.pack.pack() else {
        return;
    };
    let supply = &camera.supply;
    let fresh = pack.fresh_voltage();
    let (what, label) = if fresh > supply.highest {
        (
            "is more than the camera's input stands",
            format!(
                "expected at most {} V fresh",
                plain(supply.highest.as_volts())
            ),
        )
    } else if under_a_picture(camera).is_none_or(|voltage| voltage < supply.cut_off) {
        (
            "cannot run the camera even fresh and in a warm room",
            format!(
                "expected at least {} V under a picture",
                plain(supply.cut_off.as_volts())
            ),
        )
    } else if at_half_charge(&camera.pack) < supply.cut_off {
        (
            "falls below the camera's cut-off with half of its charge still in",
            format!(
                "expected at least {} V half empty",
                plain(supply.cut_off.as_volts())
            ),
        )
    } else {
        return;
    };
    reader.problem(
        Problem::at(
            to_blame(own, merged),
            format!(
                "{} x {} in series, {:.1} V fresh, {what}",
                camera.pack.series,
                camera.pack.cell.name,
                fresh.as_volts()
            ),
            label,
        )
        .help(format!(
            "the input is taken as {} V; if the camera is made for another, set supply_v in [draw] \
             (6 for four cells), or cutoff_v and highest_v as its manual has them",
            plain(supply.nominal.as_volts())
        )),
    );
}

/// The key that most likely is wrong: the camera's own before what it shares with others.
fn to_blame(own: &CameraKeys, merged: &Merged) -> Range<usize> {
    let places = [
        own.pack.place_of("series"),
        own.pack.place_of("cell"),
        own.draw.place_of("supply_v"),
        own.draw.place_of("cutoff_v"),
        merged.pack.place_of("series"),
        merged.pack.place_of("cell"),
    ];
    let first = places.into_iter().flatten().next();
    first.unwrap_or_else(|| own.name.span())
}

/// The lowest voltage under a picture by day with fresh cells at 20 °C.
fn under_a_picture(camera: &Camera) -> Option<Voltage> {
    let (pack, _) = camera.pack.pack().ok()?;
    let circuit = pack.at(Temperature::REFERENCE).string_circuit(&pack.full());
    let strings = f64::from(pack.parallel());
    let asleep = circuit.current(Load::Power(camera.draw.standby / strings), Voltage::ZERO)?;
    let resting = circuit.slow * asleep;
    camera
        .draw
        .day_trigger
        .pulse(&circuit, resting, strings)
        .lowest
}

/// The pack's open-circuit voltage with half of its charge gone, at 20 °C.
fn at_half_charge(pack: &PackChoice) -> Voltage {
    pack.cell.cell.open_circuit.at(0.5)
        * (f64::from(pack.series) * f64::from(pack.cell.cell.in_series))
}
