//! Where a run left the range of a cell's published points.

use super::Tested;
use crate::units::{Current, Temperature};

/// What a run asked of one cell.
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
pub struct Asked {
    /// Coldest temperature.
    pub coldest: Temperature,
    /// Warmest temperature.
    pub warmest: Temperature,
    /// Largest current at any temperature.
    pub heaviest: Current,
    /// Largest current below 0 °C; zero if there was none.
    pub heaviest_in_frost: Current,
}

impl Asked {
    /// One current at one temperature.
    #[must_use]
    pub fn once(temperature: Temperature, current: Current) -> Self {
        let mut asked = Self {
            coldest: temperature,
            warmest: temperature,
            heaviest: Current::ZERO,
            heaviest_in_frost: Current::ZERO,
        };
        asked.widen(temperature, current);
        asked
    }

    /// Takes in one more.
    pub fn widen(&mut self, temperature: Temperature, current: Current) {
        if temperature < self.coldest {
            self.coldest = temperature;
        }
        if temperature > self.warmest {
            self.warmest = temperature;
        }
        self.heaviest = self.heaviest.max(current);
        if temperature.as_celsius() < 0.0 {
            self.heaviest_in_frost = self.heaviest_in_frost.max(current);
        }
    }
}

/// A reason to trust a result less: the model extrapolated.
#[derive(Clone, Copy, Debug, PartialEq)]
#[non_exhaustive]
pub enum Doubt {
    /// Colder than any published point.
    Colder {
        /// What was asked.
        asked: Temperature,
        /// Coldest published point.
        tested: Temperature,
    },
    /// Warmer than any published point.
    Warmer {
        /// What was asked.
        asked: Temperature,
        /// Warmest published point.
        tested: Temperature,
    },
    /// A heavier load than any published point.
    Heavier {
        /// What was asked.
        asked: Current,
        /// Heaviest published point.
        tested: Current,
    },
    /// A heavier load below 0 °C than any published point there.
    HeavierInFrost {
        /// What was asked.
        asked: Current,
        /// Heaviest published point below 0 °C.
        tested: Current,
    },
}

impl Tested {
    /// Every doubt about a run that asked this of the cell.
    pub fn doubts(&self, asked: &Asked) -> impl Iterator<Item = Doubt> + use<> {
        let colder = (asked.coldest < self.coldest).then_some(Doubt::Colder {
            asked: asked.coldest,
            tested: self.coldest,
        });
        let warmer = (asked.warmest > self.warmest).then_some(Doubt::Warmer {
            asked: asked.warmest,
            tested: self.warmest,
        });
        let heavier = (asked.heaviest > self.heaviest).then_some(Doubt::Heavier {
            asked: asked.heaviest,
            tested: self.heaviest,
        });
        let in_frost =
            (asked.heaviest_in_frost > self.heaviest_in_frost).then_some(Doubt::HeavierInFrost {
                asked: asked.heaviest_in_frost,
                tested: self.heaviest_in_frost,
            });
        [colder, warmer, heavier, in_frost].into_iter().flatten()
    }
}
