//! How bright the sky is around the sun and along the horizon, by kind of sky.
//!
//! Source: Perez, Ineichen, Seals, Michalsky and Stewart, "Modeling daylight availability and
//! irradiance components from direct and global irradiance", Solar Energy 44(5), 1990; the
//! coefficients for all sites.

use super::air::air_mass_1989;
use super::{Light, Sun};
use crate::Irradiance;
use crate::arithmetic::positive;

/// A sun lower than this (85 degrees from the zenith) counts as this high.
pub(super) const FLATTEST_UP: f64 = 0.087_155_742_747_658_17;

/// One kind of sky.
struct Kind {
    /// It reaches up to this clearness ε.
    up_to: f64,
    /// F₁ = f₁₁ + f₁₂ Δ + f₁₃ z
    around_sun: [f64; 3],
    /// F₂ = f₂₁ + f₂₂ Δ + f₂₃ z
    horizon: [f64; 3],
}

const fn kind(up_to: f64, around_sun: [f64; 3], horizon: [f64; 3]) -> Kind {
    Kind {
        up_to,
        around_sun,
        horizon,
    }
}

/// From overcast to clear.
const KINDS: [Kind; 7] = [
    kind(1.065, [-0.008, 0.588, -0.062], [-0.060, 0.072, -0.022]),
    kind(1.230, [0.130, 0.683, -0.151], [-0.019, 0.066, -0.029]),
    kind(1.500, [0.330, 0.487, -0.221], [0.055, -0.064, -0.026]),
    kind(1.950, [0.568, 0.187, -0.295], [0.109, -0.152, -0.014]),
    kind(2.800, [0.873, -0.392, -0.362], [0.226, -0.462, 0.001]),
    kind(4.500, [1.132, -1.237, -0.412], [0.288, -0.823, 0.056]),
    kind(6.200, [1.060, -1.600, -0.359], [0.264, -1.127, 0.131]),
];

/// The clearest kind.
const CLEAREST: Kind = kind(
    f64::INFINITY,
    [0.678, -0.327, -0.250],
    [0.156, -1.377, 0.251],
);

/// Brightness of two parts of the sky, relative to its diffuse light.
pub(super) struct Brightness {
    /// F₁
    pub(super) around_sun: f64,
    /// F₂, negative for a dark horizon.
    pub(super) horizon: f64,
}

/// `None` without diffuse light, or with the sun below the horizon.
pub(super) fn brightness(sun: &Sun, light: &Light) -> Option<Brightness> {
    let zenith_deg = sun.apparent_zenith_deg();
    let air_mass = air_mass_1989(zenith_deg)?;
    if light.diffuse <= Irradiance::ZERO {
        return None;
    }
    // ε = ((D + B) / D + 1.041 z³) / (1 + 1.041 z³), Δ = D m / G₀ₙ
    let zenith = zenith_deg.to_radians();
    let bend = 1.041 * zenith * zenith * zenith;
    let clearness = (1.0 + light.beam / light.diffuse + bend) / (1.0 + bend);
    let delta = light.diffuse / sun.outside * air_mass;
    let kind = KINDS.iter().find(|kind| clearness < kind.up_to);
    let kind = kind.unwrap_or(&CLEAREST);
    let of = |[constant, by_delta, by_zenith]: [f64; 3]| {
        constant + by_delta * delta + by_zenith * zenith
    };
    Some(Brightness {
        around_sun: positive(of(kind.around_sun)),
        horizon: of(kind.horizon),
    })
}
