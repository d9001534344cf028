//! Open-circuit voltage against depth of discharge, and the energy that follows from it.

use crate::units::{Charge, Energy, Voltage};

/// Points of an [`OpenCircuit`] table.
pub const OCV_POINTS: usize = 16;

/// The depths of discharge at which every cell's open-circuit voltage is held.
///
/// Closer at both ends: a fresh lithium cell stands high for its first twentieth and falls off in
/// its last, and an alkaline cell drops fastest there too.
pub const OCV_DEPTHS: [f64; OCV_POINTS] = [
    0.0, 0.02, 0.05, 0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 0.87, 0.92, 0.96, 0.98, 1.0,
];

/// Open-circuit voltage by depth of discharge: straight lines between [`OCV_DEPTHS`], level
/// beyond its ends.
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
pub struct OpenCircuit {
    /// Volts at each of [`OCV_DEPTHS`], falling or level.
    #[cfg_attr(feature = "serde", serde(with = "crate::decimal::several"))]
    pub volts: [f64; OCV_POINTS],
}

impl OpenCircuit {
    /// Every straight piece: depth and volts at its start, depth and volts at its end.
    fn pieces(&self) -> impl Iterator<Item = (f64, f64, f64, f64)> {
        let starts = OCV_DEPTHS.iter().zip(&self.volts);
        let ends = OCV_DEPTHS.iter().zip(&self.volts).skip(1);
        starts
            .zip(ends)
            .map(|((&x0, &u0), (&x1, &u1))| (x0, u0, x1, u1))
    }

    /// The voltage at a depth of discharge, 0 full to 1 empty.
    #[must_use]
    pub fn at(&self, depth: f64) -> Voltage {
        let [first, .., last] = self.volts;
        if depth <= 0.0 {
            return Voltage::from_volts(first);
        }
        let volts = self
            .pieces()
            .find(|&(_, _, x1, _)| depth < x1)
            .map_or(last, |(x0, u0, x1, u1)| {
                u0 + (u1 - u0) * (depth - x0) / (x1 - x0)
            });
        Voltage::from_volts(volts)
    }

    /// The energy that `capacity` still holds at a depth of discharge: `Q ∫ U dx` from there to 1,
    /// exact for the straight lines.
    #[must_use]
    pub fn energy_left(&self, capacity: Charge, depth: f64) -> Energy {
        let mut area = 0.0;
        for (x0, u0, x1, u1) in self.pieces() {
            if depth >= x1 {
                continue;
            }
            if depth <= x0 {
                area += 0.5 * (u0 + u1) * (x1 - x0);
            } else {
                let u = u0 + (u1 - u0) * (depth - x0) / (x1 - x0);
                area += 0.5 * (u + u1) * (x1 - depth);
            }
        }
        capacity * Voltage::from_volts(area)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn falling() -> OpenCircuit {
        OpenCircuit {
            volts: OCV_DEPTHS.map(|x| 1.6 - 0.8 * x),
        }
    }

    #[test]
    fn straight_line_stays_straight() {
        for i in 0..=100 {
            let x = f64::from(i) / 100.0;
            assert!((falling().at(x).as_volts() - (1.6 - 0.8 * x)).abs() < 1e-12);
        }
    }

    #[test]
    fn energy_is_the_area() {
        let capacity = Charge::from_ampere_hours(2.0);
        let full = falling().energy_left(capacity, 0.0).as_watt_hours();
        assert!((full - 2.0 * 1.2).abs() < 1e-12, "{full}");
        let half = falling().energy_left(capacity, 0.55).as_watt_hours();
        assert!((half - 2.0 * 0.45 * 0.98).abs() < 1e-12, "{half}");
        assert!(falling().energy_left(capacity, 1.0).as_joules().abs() < 1e-12);
    }
}
