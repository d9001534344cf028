//! How much light the ground throws back.

use crate::Day;

/// The ground before a panel, with and without snow.
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
pub struct Ground {
    /// Share of light thrown back without snow.
    #[cfg_attr(feature = "serde", serde(with = "crate::decimal"))]
    pub bare_albedo: f64,
    /// The same under snow.
    #[cfg_attr(feature = "serde", serde(with = "crate::decimal"))]
    pub snow_albedo: f64,
    /// Share of each month with snow on the ground, January first, each 0 to 1.
    #[cfg_attr(feature = "serde", serde(with = "crate::decimal::several"))]
    pub snow_by_month: [f64; 12],
}

impl Ground {
    /// Grass, soil or leaves: 0.2 (Liu and Jordan 1963, and common practice since).
    pub const BARE_ALBEDO: f64 = 0.2;

    /// Snow some days old: 0.7. Fresh snow has 0.8 to 0.9, old snow 0.4 to 0.6, snow under trees
    /// less (from memory of the usual tables).
    pub const SNOW_ALBEDO: f64 = 0.7;

    /// Ground of the usual albedo with snow in these shares of the months.
    #[must_use]
    pub const fn with_snow(snow_by_month: [f64; 12]) -> Self {
        Self {
            bare_albedo: Self::BARE_ALBEDO,
            snow_albedo: Self::SNOW_ALBEDO,
            snow_by_month,
        }
    }

    /// Share of light thrown back on a day: the mean over its month.
    #[must_use]
    pub fn albedo(&self, day: Day) -> f64 {
        let snow = self.snow_by_month.get(day.month_index());
        let snow = snow.copied().unwrap_or(0.0);
        self.bare_albedo + (self.snow_albedo - self.bare_albedo) * snow
    }
}

impl Default for Ground {
    fn default() -> Self {
        Self::with_snow([0.0; 12])
    }
}
