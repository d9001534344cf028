//! Light under a cloudless sky.

use super::air::air_mass_1989;
use super::{Light, Sun};
use crate::Irradiance;
use crate::arithmetic::positive;

/// Linke turbidity of ordinary air away from towns: 3. Winter air and high ground have 2, summer
/// haze 4 to 5 (common practice, no source).
pub const ORDINARY_TURBIDITY: f64 = 3.0;

/// Global light on the horizontal, from the zenith angle alone.
///
/// ```text
/// G = 1098 W/m² cos z exp (−0.059 / cos z)
/// ```
///
/// Source: Haurwitz, "Insolation in relation to cloudiness and cloud density", Journal of
/// Meteorology 2, 1945; the coefficients of Reno, Hansen and Stein, SAND2012-2389.
#[must_use]
pub fn haurwitz(sun: &Sun) -> Irradiance {
    let cos_zenith = sun.apparent.up();
    if cos_zenith <= 0.0 {
        return Irradiance::ZERO;
    }
    Irradiance::from_w_per_m2(1098.0 * cos_zenith * libm::exp(-0.059 / cos_zenith))
}

/// Global, beam and diffuse light by the height of the place and the haze of the air.
///
/// `turbidity` is Linke's: how many clean dry atmospheres the air is worth, 1 to 8; see
/// [`ORDINARY_TURBIDITY`].
///
/// Source: Ineichen and Perez, "A new airmass independent formulation for the Linke turbidity
/// coefficient", Solar Energy 73, 2002; without the enhancement at great air masses, which its
/// authors later took back.
#[must_use]
pub fn ineichen(sun: &Sun, turbidity: f64, elevation_m: f64) -> Light {
    let cos_zenith = sun.apparent.up();
    let Some(relative) = air_mass_1989(sun.apparent_zenith_deg()) else {
        return Light::DARK;
    };
    if cos_zenith <= 0.0 {
        return Light::DARK;
    }
    let air_mass = relative * sun.pressure_share;
    let low_air = libm::exp(-elevation_m / 8_000.0);
    let low_haze = libm::exp(-elevation_m / 1_250.0);
    // G = c₁ G₀ₙ cos z exp (−c₂ m (f₁ + f₂ (T − 1)))
    let scale = 5.09e-5 * elevation_m + 0.868;
    let damping = 3.92e-5 * elevation_m + 0.0387;
    let global = sun.outside
        * (scale
            * cos_zenith
            * libm::exp(-damping * air_mass * (low_air + low_haze * (turbidity - 1.0))));
    // B = b G₀ₙ exp (−0.09 m (T − 1)), and never more than a share of the global light
    let beam =
        sun.outside * ((0.664 + 0.163 / low_air) * libm::exp(-0.09 * air_mass * (turbidity - 1.0)));
    let least_diffuse = (0.1 - 0.2 * libm::exp(-turbidity)) / (0.1 + 0.882 / low_air);
    let beam = beam.min(global * (positive(1.0 - least_diffuse) / cos_zenith));
    Light {
        global,
        beam,
        diffuse: global - beam * cos_zenith,
    }
}
