//! What nobody has measured of a camera, and the camera that comes of drawing it.

use overwinter_model::Voltage;
use overwinter_model::draw::Draw;

use super::draws::draw;
use super::figures::ACCEPTED;
use super::{Camera, Figure, Figures, Known, Supply};

/// How far a figure of one camera differs from its model's, one standard deviation of its logarithm
/// (judgement).
const UNIT_SD_LN: f64 = 0.05;

/// The same of a voltage at which something stops: parts of one design are alike to a percent (judgement).
const UNIT_VOLTAGE_SD_LN: f64 = 0.01;

/// Something that can be measured of a camera, and is drawn where it is not known.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Quantity {
    /// The voltages at which the camera, its flash and its modem stop: one set of parts decides them all.
    Limits,
    /// A figure of its draw.
    Figure(Figure),
}

impl Quantity {
    /// Every one that is drawn by itself.
    pub fn all() -> impl Iterator<Item = Self> {
        let figures = Figure::ALL.map(Self::Figure).into_iter();
        let alone = figures.filter(|quantity| quantity.leading() == *quantity);
        std::iter::once(Self::Limits).chain(alone)
    }

    /// The quantity that it is drawn with: what takes longer costs more, so the time of an event goes with its
    /// energy. Else itself.
    #[must_use]
    pub const fn leading(self) -> Self {
        let Self::Figure(figure) = self else {
            return self;
        };
        Self::Figure(match figure {
            Figure::FirstStillTime => Figure::FirstStillEnergy,
            Figure::NextStillTime => Figure::NextStillEnergy,
            Figure::SessionTime => Figure::SessionEnergy,
            Figure::DataTime => Figure::DataEnergy,
            Figure::CheckInTime => Figure::CheckInEnergy,
            alone => alone,
        })
    }

    /// Tells them apart where numbers are drawn: what is drawn together has one number.
    #[must_use]
    pub const fn number(self) -> u32 {
        match self.leading() {
            Self::Limits => 0,
            Self::Figure(figure) => figure as u32 + 1,
        }
    }
}

/// Standard normal deviates of a quantity: of a model of cameras, and of one of them.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Deviates {
    /// What all cameras of the model share.
    pub model: f64,
    /// How this one differs from them.
    pub unit: f64,
}

impl Deviates {
    /// A figure that is so well known.
    fn of(self, known: &Known, unit_sd_ln: f64) -> f64 {
        known.at(self.model) * libm::exp(unit_sd_ln * self.unit)
    }
}

impl Camera {
    /// What a quantity is that is off by `deviates`: a figure in its unit, of the voltages that at which the
    /// camera stops, in volts.
    #[must_use]
    pub fn value_at(&self, quantity: Quantity, deviates: Deviates) -> f64 {
        match quantity {
            Quantity::Limits => deviates.of(&self.limits.cut_off, UNIT_VOLTAGE_SD_LN),
            Quantity::Figure(figure) => {
                let known = &self.assumed[figure].known;
                let value = deviates.of(known, UNIT_SD_LN);
                // A camera without a modem takes nothing for it.
                if known.value > 0.0 {
                    value.clamp(*ACCEPTED.start(), *ACCEPTED.end())
                } else {
                    value
                }
            }
        }
    }

    /// What a camera draws whose quantities are off by `deviates`.
    #[must_use]
    pub fn drawn(&self, deviates: impl Fn(Quantity) -> Deviates) -> Draw {
        let values = Figures::new(|figure| {
            let quantity = Quantity::Figure(figure);
            self.value_at(quantity, deviates(quantity))
        });
        let off = deviates(Quantity::Limits);
        let volts = |known: &Known| Voltage::from_volts(off.of(known, UNIT_VOLTAGE_SD_LN));
        let supply = Supply {
            cut_off: volts(&self.limits.cut_off),
            flash: volts(&self.limits.flash),
            upload: volts(&self.limits.upload),
            ..self.supply
        };
        draw(&values, &self.settings, &supply)
    }
}

#[cfg(test)]
mod tests {
    use std::collections::HashSet;

    use super::*;

    #[test]
    fn what_is_drawn_by_itself_has_a_number_of_its_own() {
        let all: Vec<Quantity> = Quantity::all().collect();
        let numbers: HashSet<u32> = all.iter().copied().map(Quantity::number).collect();
        assert_eq!(numbers.len(), all.len());
        for figure in Figure::ALL {
            assert!(numbers.contains(&Quantity::Figure(figure).number()));
        }
    }
}
