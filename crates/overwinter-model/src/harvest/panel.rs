//! A panel's power, and how much of it a charge controller passes on.

use crate::arithmetic::{positive, share};
use crate::{Irradiance, Power, Temperature, Voltage};

/// Light in which a panel is rated.
const RATED_LIGHT: Irradiance = Irradiance::from_w_per_m2(1000.0);

/// Temperature at which it is.
const RATED_TEMPERATURE: Temperature = Temperature::from_celsius(25.0);

/// A solar panel.
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
pub struct Panel {
    /// Power in 1000 W/m2 at 25 °C.
    pub rated: Power,
    /// Share of the power that a kelvin adds: negative.
    #[cfg_attr(feature = "serde", serde(with = "crate::decimal"))]
    pub per_kelvin: f64,
    /// Kelvins above the air in each W/m2.
    #[cfg_attr(feature = "serde", serde(with = "crate::decimal"))]
    pub heating_k_per_w_per_m2: f64,
    /// Share of the power that wiring and mismatch take.
    #[cfg_attr(feature = "serde", serde(with = "crate::decimal"))]
    pub losses: f64,
}

impl Panel {
    /// -0.4 % a kelvin: crystalline silicon (from memory of data sheets, which give -0.35 to
    /// -0.45).
    pub const PER_KELVIN: f64 = -0.004;

    /// A panel that stands free in the air: nine tenths of the light are taken up, a tenth of that
    /// leaves as electricity, and each kelvin carries off 29 W/m2.
    ///
    /// Source: Faiman, "Assessing the outdoor operating temperature of photovoltaic modules",
    /// Progress in Photovoltaics 16(4), 2008, without its wind term; the values are common practice
    /// for open racks.
    pub const HEATING_K_PER_W_PER_M2: f64 = 0.9 * (1.0 - 0.1) / 29.0;

    /// A usual panel of this power, with a tenth lost to wiring, mismatch and dirt.
    #[must_use]
    pub const fn rated(rated: Power) -> Self {
        Self {
            rated,
            per_kelvin: Self::PER_KELVIN,
            heating_k_per_w_per_m2: Self::HEATING_K_PER_W_PER_M2,
            losses: 0.1,
        }
    }

    /// How warm its cells get in steady light.
    #[must_use]
    pub fn temperature(&self, light: Irradiance, air: Temperature) -> Temperature {
        air.warmer(self.heating_k_per_w_per_m2 * light.as_w_per_m2())
    }

    /// The most that it gives in this light and air, never below zero.
    ///
    /// ```text
    /// P = P_rated (G / 1000 W/m²) (1 + γ (T − 25 °C)) (1 − losses)
    /// ```
    ///
    /// Source: the linear form of the data sheets; as in Dobos, "PVWatts Version 5 Manual",
    /// NREL/TP-6A20-62641, 2014.
    #[must_use]
    pub fn power(&self, light: Irradiance, air: Temperature) -> Power {
        self.rated * self.share_of_rated(light, self.temperature(light, air))
    }

    /// Its power in this light over the rated one, with cells of this temperature.
    pub(super) fn share_of_rated(&self, light: Irradiance, cells: Temperature) -> f64 {
        let warm = self.at_temperature(cells);
        positive((light / RATED_LIGHT) * warm * (1.0 - self.losses))
    }

    /// Power, and nearly alike voltage, at a temperature over that at 25 °C.
    fn at_temperature(&self, cells: Temperature) -> f64 {
        1.0 + self.per_kelvin * (cells.as_kelvin() - RATED_TEMPERATURE.as_kelvin())
    }
}

/// Current at the highest power over that of the short circuit: crystalline silicon, 0.90 to 0.95
/// (from memory of data sheets).
const CURRENT_AT_BEST: f64 = 0.93;

/// Voltage at the highest power over that of the open circuit: 0.78 to 0.85 (as above).
const VOLTAGE_AT_BEST: f64 = 0.82;

/// What [`current_at`] makes of them.
const C_1: f64 = 3.835_994_714_334_589_5e-7;
const C_2: f64 = 0.067_688_002_489_449_7;

/// What stands between panel and store.
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
pub enum Controller {
    /// Follows the panel's highest power and loses a share of it in its converter.
    MaximumPower {
        /// What arrives over what the panel gives, 0 to 1.
        #[cfg_attr(feature = "serde", serde(with = "crate::decimal"))]
        efficiency: f64,
    },
    /// A switch or diode only: the panel works at the store's voltage.
    Direct {
        /// The panel's voltage at its highest power, in the rating's light and temperature.
        best: Voltage,
        /// What the diode takes.
        diode: Voltage,
    },
}

impl Controller {
    /// The share of the panel's highest power that comes into a store of this voltage, 0 to 1.
    #[must_use]
    pub fn share(&self, panel: &Panel, cells: Temperature, store: Voltage) -> f64 {
        match *self {
            Self::MaximumPower { efficiency } => efficiency,
            Self::Direct { best, diode } => {
                let best = best * panel.at_temperature(cells);
                let current = current_at((store + diode) / best);
                share(store / best * current)
            }
        }
    }
}

/// A panel's current over that at its highest power, at a voltage over that at its highest power.
///
/// ```text
/// I / I_sc = 1 − C₁ (exp (V / (C₂ V_oc)) − 1)
/// C₂ = (V_mp / V_oc − 1) / ln (1 − I_mp / I_sc),  C₁ = (1 − I_mp / I_sc) exp (−V_mp / (C₂ V_oc))
/// ```
///
/// Source: Rauschenbach, *Solar Cell Array Design Handbook*, 1980; from memory.
fn current_at(voltage_over_best: f64) -> f64 {
    let exponent = VOLTAGE_AT_BEST * voltage_over_best / C_2;
    (1.0 - C_1 * (libm::exp(exponent) - 1.0)) / CURRENT_AT_BEST
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    const PANEL: Panel = Panel::rated(Power::from_watts(5.0));

    #[test]
    fn the_current_curve_passes_through_its_three_points() {
        assert!((current_at(0.0) - 1.0 / CURRENT_AT_BEST).abs() < 1e-9);
        assert!((current_at(1.0) - 1.0).abs() < 1e-3);
        assert!(current_at(1.0 / VOLTAGE_AT_BEST).abs() < 1e-3);
    }

    #[test]
    fn the_constants_of_the_current_curve_are_those_of_its_formula() {
        let missing = 1.0 - CURRENT_AT_BEST;
        let c_2 = (VOLTAGE_AT_BEST - 1.0) / libm::log(missing);
        let c_1 = missing * libm::exp(-VOLTAGE_AT_BEST / c_2);
        assert_eq!(
            (c_1.to_bits(), c_2.to_bits()),
            (C_1.to_bits(), C_2.to_bits())
        );
    }

    #[test]
    fn a_panel_at_half_its_voltage_gives_about_half() {
        let direct = Controller::Direct {
            best: Voltage::from_volts(18.0),
            diode: Voltage::ZERO,
        };
        let share = |volts| direct.share(&PANEL, RATED_TEMPERATURE, Voltage::from_volts(volts));
        assert!((0.5..0.56).contains(&share(9.0)), "{}", share(9.0));
        assert!(share(18.0) > 0.99);
        assert!(share(22.5) < 1e-6);
    }

    proptest! {
        #[test]
        fn more_light_gives_more_power(
            light in 0.0..1200.0_f64, more in 0.0..200.0_f64, air_c in -40.0..40.0_f64,
        ) {
            let air = Temperature::from_celsius(air_c);
            let power = |w| PANEL.power(Irradiance::from_w_per_m2(w), air);
            prop_assert!(power(light + more) >= power(light));
            prop_assert!(power(light) >= Power::ZERO);
        }
    }
}
