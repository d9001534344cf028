//! What a cell loses with nothing connected.

use crate::number::Number;
use crate::units::Time;

/// One year, for rates that are published by the year.
const YEAR: Time = Time::from_days(365.25);

/// Self-discharge in two parts, and what storage does to the resistance.
///
/// ```text
/// q(a) = q0 e^(−r a − f (1 − e^(−a/τ)))         R(a) = R0 (1 + g a)
/// ```
///
/// `a` is the age counted at the reference temperature: an hour in the cold adds less than an
/// hour to it, by the Arrhenius factor. `f` is the part that goes soon after charging, which
/// nickel-metal hydride has (about a tenth in the first month, then 1 % a month or less) and
/// other cells have not.
/// The form is ours, chosen for what the published storage points show.
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
pub struct Storage {
    /// `r`: steady loss by the year at the reference temperature, as a rate (0.02 loses 2 %).
    #[cfg_attr(feature = "serde", serde(with = "crate::decimal"))]
    pub loss_per_year: f64,
    /// `f`: loss in the first time after charging, as a rate; 0 if there is none.
    #[cfg_attr(feature = "serde", serde(with = "crate::decimal"))]
    pub early_loss: f64,
    /// `τ`: time constant of the early loss; must be above zero.
    pub early_time: Time,
    /// `B`: activation in kelvin; above 0 means slower in the cold.
    #[cfg_attr(feature = "serde", serde(with = "crate::decimal"))]
    pub activation_k: f64,
    /// `g`: growth of both resistances by the year at the reference temperature.
    #[cfg_attr(feature = "serde", serde(with = "crate::decimal"))]
    pub resistance_growth_per_year: f64,
}

impl Storage {
    /// Share of the charge that is kept while the age goes from `age` to `age + more`.
    #[cfg_attr(not(target_os = "none"), inline(always))]
    #[must_use]
    pub fn kept<N: Number>(&self, age: Time<N>, more: Time<N>) -> N {
        let over = |span: Time<N>, of: Time| span.si().per(of.si());
        let steady = N::from(self.loss_per_year) * over(more, YEAR);
        let early = if self.early_loss > 0.0 {
            let before = (-over(age, self.early_time)).exp();
            N::from(self.early_loss) * before * -(-over(more, self.early_time)).exp_m1()
        } else {
            N::from(0.0)
        };
        (-(steady + early)).exp()
    }

    /// What storage has made of the resistances at an age.
    #[cfg_attr(not(target_os = "none"), inline(always))]
    pub(crate) fn resistance_factor<N: Number>(&self, age: Time<N>) -> N {
        let years = age.si().per(YEAR.si());
        N::from(1.0) + N::from(self.resistance_growth_per_year) * years
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const STORAGE: Storage = Storage {
        loss_per_year: 0.12,
        early_loss: 0.08,
        early_time: Time::from_days(12.0),
        activation_k: 6000.0,
        resistance_growth_per_year: 0.1,
    };

    #[test]
    fn two_halves_are_one_whole() {
        let month = Time::from_days(30.0);
        let once = STORAGE.kept(Time::ZERO, month + month);
        let twice = STORAGE.kept(Time::ZERO, month) * STORAGE.kept(month, month);
        assert!((once - twice).abs() < 1e-12, "{once} {twice}");
    }

    #[test]
    fn early_loss_comes_early() {
        let month = Time::from_days(30.0);
        let first = 1.0 - STORAGE.kept(Time::ZERO, month);
        let second = 1.0 - STORAGE.kept(month, month);
        assert!(first > 3.0 * second, "{first} {second}");
    }
}
