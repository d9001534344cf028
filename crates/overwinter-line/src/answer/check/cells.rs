//! Packs and cut-offs that do not go together, and cells that frost or each other harm.

use overwinter_model::Voltage;
use overwinter_model::cell::Chemistry;

use super::About;
use crate::line::{Camera, Line};
use crate::words;

/// The camera's cut-off for one of the cells inside its pack.
fn cut_off_per_cell(camera: &Camera) -> Voltage {
    let inside = f64::from(camera.pack.series) * f64::from(camera.pack.cell.cell.in_series);
    camera.supply.cut_off / inside
}

pub(super) fn cut_off_under_floor(camera: &Camera) -> About {
    let floor = camera.pack.cell.cell.floor;
    let per_cell = cut_off_per_cell(camera);
    // A cut-off that is a share of the input's voltage lands a rounding error beside the floor.
    let rounding = Voltage::from_volts(1e-6);
    (per_cell < floor - rounding).then(|| {
        let harm = if camera.pack.cell.cell.chemistry.rechargeable() {
            "which harms it"
        } else {
            "where it may leak"
        };
        let text = format!(
            "stops only at {} a cell, but {} is driven over below {}, {harm}: swap before it runs \
             down to the end",
            words::volts(per_cell),
            camera.pack.cell.name,
            words::volts(floor)
        );
        ("cut-off-under-floor", text)
    })
}

/// A cut-off that leaves a quarter of the charge or more in the cells even at no load in a warm
/// room.
pub(super) fn cut_off_strands_charge(camera: &Camera) -> About {
    let per_cell = cut_off_per_cell(camera);
    let open_circuit = &camera.pack.cell.cell.open_circuit;
    (open_circuit.at(0.75) < per_cell).then(|| {
        let text = format!(
            "stops at {} a cell, where {} still holds more than a quarter of its charge at no load \
             and 20 °C: more cells in series use them better, if the input stands the voltage",
            words::volts(per_cell),
            camera.pack.cell.name
        );
        ("cut-off-strands-charge", text)
    })
}

pub(super) fn flash_before_cut_off(camera: &Camera) -> About {
    (camera.supply.flash < camera.supply.cut_off).then(|| {
        let text = format!(
            "flash_cutoff_v ({}) is below cutoff_v ({}): the camera is off before its flash fails",
            words::volts(camera.supply.flash),
            words::volts(camera.supply.cut_off)
        );
        ("flash-cut-off-below-cut-off", text)
    })
}

pub(super) fn lead_acid_frost(line: &Line, camera: &Camera) -> About {
    if camera.pack.cell.cell.chemistry != Chemistry::LeadAcid {
        return None;
    }
    let weather = line.climate.weather();
    let first = line.season.first_day();
    let frost = (0..line.season.days()).any(|day| {
        let air = weather.air_of_day(&line.place, first.plus(day));
        air.iter().any(|air| air.as_celsius() < -10.0)
    });
    frost.then(|| {
        let text = format!(
            "{}: bring it in before it is down to a third",
            words::LEAD_ACID_FROST
        );
        ("lead-acid-frost", text)
    })
}

/// How many chemistries the line runs on.
pub(super) fn kinds(line: &Line) -> usize {
    let mut kinds: Vec<Chemistry> = Vec::new();
    for camera in &line.cameras {
        let chemistry = camera.pack.cell.cell.chemistry;
        if !kinds.contains(&chemistry) {
            kinds.push(chemistry);
        }
    }
    kinds.len()
}
