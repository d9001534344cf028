//! Whether a camera runs on its pack at all.

use std::ops::Range;

use overwinter_model::pack::Pack;
use overwinter_model::{Load, Polarisation, Temperature, Voltage};

use super::camera::Merged;
use super::file::CameraKeys;
use super::{Camera, PackChoice, panel};
use crate::keys::Reader;
use crate::problem::Problem;
use crate::words::{plain, to_digits};

/// Why a camera does not run on a pack.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Misfit {
    /// What is wrong.
    pub what: &'static str,
    /// What the camera needs.
    pub expected: String,
}

/// Whether the panel would charge a pack that must not be, the camera's input cannot stand a pack, whether the pack cannot start the camera in a
/// warm room, or whether it falls below the cut-off with more than half of its charge still in.
#[must_use]
pub fn misfit(camera: &Camera, choice: &PackChoice) -> Option<Misfit> {
    let (pack, _) = choice.pack().ok()?;
    let supply = &camera.supply;
    let cut_off = plain(to_digits(supply.cut_off.as_volts(), 3));
    let misfit = |what, expected| Some(Misfit { what, expected });
    if let Some(never_charged) = panel::misfit(camera, choice) {
        Some(never_charged)
    } else if pack.fresh_voltage() > supply.highest {
        let highest = plain(supply.highest.as_volts());
        misfit(
            "is more than the camera's input stands",
            format!("at most {highest} V fresh"),
        )
    } else if under_a_picture(camera, &pack).is_none_or(|voltage| voltage < supply.cut_off) {
        misfit(
            "cannot run the camera even fresh and in a warm room",
            format!("at least {cut_off} V under a picture"),
        )
    } else if at_half_charge(choice) < supply.cut_off {
        misfit(
            "falls below the camera's cut-off with half of its charge still in",
            format!("at least {cut_off} V half empty"),
        )
    } else {
        None
    }
}

/// Refuses a camera's own pack if it does not fit.
pub(super) fn check(reader: &mut Reader, camera: &Camera, own: &CameraKeys, merged: &Merged) {
    let Some(Misfit { what, expected }) = misfit(camera, &camera.pack) else {
        return;
    };
    let pack = &camera.pack;
    let fresh = pack
        .pack()
        .map_or(Voltage::ZERO, |(pack, _)| pack.fresh_voltage());
    reader.problem(
        Problem::at(
            to_blame(own, merged),
            format!(
                "{} x {} in series, {:.1} V fresh, {what}",
                pack.series,
                pack.cell.name,
                fresh.as_volts()
            ),
            format!("expected {expected}"),
        )
        .help(format!(
            "the input is taken as {} V; if the camera is made for another, set supply_v in [draw] \
             (6 for four cells), or cutoff_v and highest_v as its manual has them",
            plain(camera.supply.nominal.as_volts())
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
fn under_a_picture(camera: &Camera, pack: &Pack) -> Option<Voltage> {
    let circuit = pack.at(Temperature::REFERENCE).string_circuit(&pack.full());
    let strings = f64::from(pack.parallel());
    let asleep = circuit.current(
        Load::Power(camera.draw.standby / strings),
        &Polarisation::NONE,
    )?;
    let resting = Polarisation(circuit.branches.map(|branch| branch * asleep));
    camera
        .draw
        .day_trigger
        .pulse(&circuit, &resting, strings)
        .lowest()
}

/// The pack's open-circuit voltage with half of its charge gone, at 20 °C.
fn at_half_charge(pack: &PackChoice) -> Voltage {
    pack.cell.cell.open_circuit.at(0.5)
        * (f64::from(pack.series) * f64::from(pack.cell.cell.in_series))
}
