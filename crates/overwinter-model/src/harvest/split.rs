//! Global light on the horizontal, split into beam and diffuse.
//!
//! DISC knows the air mass and is the better one in winter: held against the beam of three typical
//! years, November to February on a plane tilted by the latitude, DISC is within 3 % up to 45 N and
//! 9 % high at 63 N; Erbs is 3 to 7 % and 21 % low.

use super::air::air_mass_1966;
use super::{Light, Sun};
use crate::Irradiance;
use crate::arithmetic::{max, min, polynomial, share};

/// With the sun lower than this (cosine of 87 degrees from the zenith) all light counts as
/// diffuse: both fits end there.
const LOWEST_UP: f64 = 0.052_335_956_242_943_83;

/// The clearness index is not taken with a flatter sun than this (about 86.3 degrees), where it
/// says little. Common practice of implementations, no source.
const FLATTEST_UP: f64 = 0.065;

/// Light over the light outside the atmosphere, both on the horizontal, 0 to 1.
fn clearness(global: Irradiance, outside: Irradiance, up: f64) -> f64 {
    share(global / (outside * max(up, FLATTEST_UP)))
}

/// A beam that was found, with the diffuse light that is left, if both can be.
fn with_beam(global: Irradiance, sun: &Sun, beam: Irradiance) -> Light {
    if sun.up < LOWEST_UP || beam < Irradiance::ZERO {
        return Light::overcast(global);
    }
    Light {
        global,
        beam,
        diffuse: (global - beam * sun.up).max(Irradiance::ZERO),
    }
}

/// The split by the clearness index alone.
///
/// Source: Erbs, Klein and Duffie, "Estimation of the diffuse radiation fraction for hourly, daily
/// and monthly-average global radiation", Solar Energy 28(4), 1982.
#[must_use]
pub fn erbs(global: Irradiance, sun: &Sun) -> Light {
    let k = clearness(global, sun.outside, sun.up);
    let diffuse_share = if k <= 0.22 {
        1.0 - 0.09 * k
    } else if k <= 0.8 {
        polynomial(k, &[0.9511, -0.1604, 4.388, -16.638, 12.336])
    } else {
        0.165
    };
    with_beam(global, sun, global * ((1.0 - diffuse_share) / sun.up))
}

/// DISC's polynomials, of the air mass and, for the two kinds of sky, of the clearness index.
const CLEAN: [f64; 5] = [0.866, -0.122, 0.0121, -0.000_653, 1.4e-5];
const CLOUDED: [[f64; 4]; 3] = [
    [0.512, -1.56, 2.286, -2.222],
    [0.370, 0.962, 0.0, 0.0],
    [-0.280, 0.932, -2.048, 0.0],
];
const CLEAR: [[f64; 4]; 3] = [
    [-5.743, 21.77, -27.49, 11.56],
    [41.4, -118.5, 66.05, 31.9],
    [-47.01, 184.2, -222.0, 73.81],
];

/// The split by clearness index and air mass ("direct insolation simulation code").
///
/// Source: Maxwell, "A quasi-physical model for converting hourly global horizontal to direct
/// normal insolation", SERI/TR-215-3087, 1987. Air mass at most 12, as there.
#[must_use]
#[cfg_attr(target_os = "none", inline(never))]
pub fn disc(global: Irradiance, sun: &Sun) -> Light {
    let Some(relative) = air_mass_1966(sun.zenith_deg()) else {
        return Light::overcast(global);
    };
    // The report's solar constant is 1370 W/m2.
    let outside = sun.outside * (1370.0 / super::sun::SOLAR_CONSTANT.as_w_per_m2());
    let k = clearness(global, outside, sun.up);
    let mass = min(relative * sun.pressure_share, 12.0);
    // Transmittance of the beam: what clean air lets through, less what clouds and haze take.
    let clean = polynomial(mass, &CLEAN);
    let sky = if k <= 0.6 { &CLOUDED } else { &CLEAR };
    let [a, b, c] = sky
        .each_ref()
        .map(|coefficients| polynomial(k, coefficients));
    let taken = a + b * libm::exp(c * mass);
    with_beam(global, sun, outside * (clean - taken))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::Direction;
    use proptest::prelude::*;

    proptest! {
        #[test]
        fn the_parts_add_up(
            elevation in -5.0..90.0_f64, clearness in 0.0..1.0_f64, pressure in 0.6..1.02_f64,
        ) {
            let outside = Irradiance::from_w_per_m2(1366.1);
            let sun = Sun::over(Direction::from_angles(elevation, 170.0), outside, pressure);
            let global = outside * (sun.up.max(0.0) * clearness);
            for split in [erbs, disc] {
                let light = split(global, &sun);
                prop_assert!(light.beam >= Irradiance::ZERO && light.beam < outside);
                prop_assert!(light.diffuse >= Irradiance::ZERO);
                let sum = light.diffuse + light.beam * sun.up;
                prop_assert!(sum.as_w_per_m2() >= global.as_w_per_m2() - 1e-9);
                if light.diffuse > Irradiance::ZERO {
                    prop_assert!((sum - global).as_w_per_m2().abs() < 1e-9);
                }
            }
        }
    }
}
