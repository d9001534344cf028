//! What is drawn once for a whole season, path by path: to see which of it decides.

use overwinter_model::paths::{AirChances, CameraChances, Drawn, SampledAir};
use overwinter_model::random::Key;

use super::{OddsError, Paths, chances};
use crate::line::{Camera, Deviates, Line, PackChoice, Quantity};

/// So many paths are drawn at once.
const TOGETHER: usize = 8;

/// Something about a camera, its cells or its place that is not known beforehand, and is the same all season.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Unknown {
    /// How often something passes: a factor on what is said.
    Triggers,
    /// How much warmer the season is than expected, kelvin.
    Temperature,
    /// The time on air: a factor on what the signal makes of it.
    Signal,
    /// Capacity of the make that was bought: a factor.
    CellCapacity,
    /// Resistance of the make that was bought: a factor.
    CellResistance,
    /// What its open-circuit voltage lies above the usual, volts a cell.
    CellVoltage,
    /// Resistance where no published point reaches: the logarithm of a factor, for a step beyond.
    ResistanceBeyond,
    /// The same of the charge within reach.
    ReachBeyond,
    /// A figure of the camera, in its unit; of its voltages that at which it stops, volts.
    Camera(Quantity),
}

/// What was drawn of it, path by path.
#[derive(Clone, Debug, PartialEq)]
pub struct DrawnOnce {
    /// What.
    pub unknown: Unknown,
    /// Of each path in their order.
    pub values: Vec<f64>,
}

/// Everything that is drawn once for each path of a camera on a pack, but what has no effect with its
/// settings and what is the same in all paths.
///
/// # Errors
/// [`OddsError`].
pub fn drawn_once(
    line: &Line,
    camera: &Camera,
    pack: &PackChoice,
    paths: Paths,
) -> Result<Vec<DrawnOnce>, OddsError> {
    let chances = chances(camera, pack)?;
    let air = AirChances::of(line.climate.spread())?;
    let (pack, _) = pack.pack()?;
    let months = months(line);
    let mut all: Vec<DrawnOnce> = unknowns(camera).map(DrawnOnce::nothing_yet).collect();
    for first in (0..paths.count).step_by(TOGETHER) {
        let drawn = Drawn {
            key: Key(paths.seed),
            paths: std::array::from_fn(|lane| first + lane as u32),
        };
        let wanted = (paths.count - first).min(TOGETHER as u32) as usize;
        let luck = chances.luck::<TOGETHER>(&drawn, &pack);
        for of in &mut all {
            let lanes = match of.unknown {
                Unknown::Triggers => chances.traffic(&drawn).rate().0,
                Unknown::Temperature => warmer(drawn, &air, &months),
                Unknown::Signal => luck.airtime.0,
                Unknown::CellCapacity => luck.ordinary.0,
                Unknown::CellResistance => luck.resistance.0,
                Unknown::CellVoltage => luck.open_circuit.si().0,
                Unknown::ResistanceBeyond => luck.beyond_resistance.0,
                Unknown::ReachBeyond => luck.beyond_reach.0,
                Unknown::Camera(quantity) => of_camera(&chances, &drawn, camera, quantity),
            };
            of.values.extend(lanes.iter().take(wanted));
        }
    }
    all.retain(DrawnOnce::differs);
    Ok(all)
}

/// What may be of interest of a camera with its settings.
fn unknowns(camera: &Camera) -> impl Iterator<Item = Unknown> {
    let figures = camera.figures();
    let used = figures.filter(|(figure, ..)| figure.is_used_with(&camera.settings));
    let used = used.map(|(figure, ..)| Quantity::Figure(figure));
    // A time that goes with an energy would tell the same once more.
    let alone = used.filter(|quantity| quantity.leading() == *quantity);
    let signal = camera.sends().then_some(Unknown::Signal);
    [
        Unknown::Triggers,
        Unknown::Temperature,
        Unknown::CellCapacity,
        Unknown::CellResistance,
        Unknown::CellVoltage,
        Unknown::ResistanceBeyond,
        Unknown::ReachBeyond,
        Unknown::Camera(Quantity::Limits),
    ]
    .into_iter()
    .chain(signal)
    .chain(alone.map(Unknown::Camera))
}

impl DrawnOnce {
    fn nothing_yet(unknown: Unknown) -> Self {
        Self {
            unknown,
            values: Vec::new(),
        }
    }

    /// Not the same in all paths.
    fn differs(&self) -> bool {
        let mut pairs = self.values.iter().zip(self.values.iter().skip(1));
        pairs.any(|(one, next)| one.to_bits() != next.to_bits())
    }
}

/// Index of the month of each day of the season.
fn months(line: &Line) -> Vec<usize> {
    let first = line.season.first_day();
    let days = 0..line.season.days();
    days.map(|day| first.plus(day).month_index()).collect()
}

/// Means of the seasons above what is expected.
fn warmer(drawn: Drawn<TOGETHER>, air: &AirChances, months: &[usize]) -> [f64; TOGETHER] {
    let mut sampled = SampledAir::new(drawn, air);
    let mut sum = [0.0; TOGETHER];
    for month in months {
        let day = sampled.next_day(*month);
        for (sum, warmer) in sum.iter_mut().zip(day.warmer_k.0) {
            *sum += warmer;
        }
    }
    sum.map(|sum| sum / months.len() as f64)
}

fn of_camera(
    chances: &CameraChances,
    drawn: &Drawn<TOGETHER>,
    camera: &Camera,
    quantity: Quantity,
) -> [f64; TOGETHER] {
    let number = quantity.number();
    let model = chances.of_model(drawn, number).0;
    let unit = chances.of_unit(drawn, number).0;
    std::array::from_fn(|lane| {
        camera.value_at(
            quantity,
            Deviates {
                model: model[lane],
                unit: unit[lane],
            },
        )
    })
}
