//! The air that light passes: pressure, air mass, refraction.

use crate::arithmetic::clamp;

/// Pressure at a height above the sea as a share of that at sea level.
///
/// ```text
/// p / p₀ = (1 − 2.25577e-5 h)^5.25588
/// ```
///
/// Source: International Standard Atmosphere (ISO 2533:1975), for -2 to 11 km; other heights count
/// as the nearest of these.
pub(super) fn pressure_share(elevation_m: f64) -> f64 {
    let height = clamp(elevation_m, -2_000.0, 11_000.0);
    libm::pow(1.0 - 2.255_77e-5 * height, 5.255_88)
}

/// Relative air mass by Kasten (1966), as DISC was fitted with it; `None` with the sun so low that
/// it has none.
///
/// ```text
/// m = 1 / (cos z + 0.15 (93.885° − z)^−1.253)
/// ```
///
/// Source: Kasten, "A new table and approximation formula for the relative optical air mass",
/// Archiv für Meteorologie B 14, 1966.
pub(super) fn air_mass_1966(zenith_deg: f64) -> Option<f64> {
    air_mass(zenith_deg, (0.15, 93.885, -1.253))
}

/// Relative air mass by Kasten and Young (1989); `None` with the sun below the horizon.
///
/// ```text
/// m = 1 / (cos z + 0.50572 (96.07995° − z)^−1.6364)
/// ```
///
/// Source: Kasten and Young, "Revised optical air mass tables and approximation formula", Applied
/// Optics 28(22), 1989; for apparent zenith angles.
pub(super) fn air_mass_1989(zenith_deg: f64) -> Option<f64> {
    air_mass(zenith_deg, (0.505_72, 96.079_95, -1.636_4))
}

fn air_mass(zenith_deg: f64, (factor, beyond_deg, power): (f64, f64, f64)) -> Option<f64> {
    (zenith_deg <= 90.0).then(|| {
        let bent = factor * libm::pow(beyond_deg - zenith_deg, power);
        1.0 / (libm::cos(zenith_deg.to_radians()) + bent)
    })
}

/// How much higher the sun appears than it stands, degrees; nothing once it has set.
///
/// ```text
/// r = (p / 1010 mbar) (283 / (273 + t)) 1.02 / (60 tan (h + 10.3 / (h + 5.11)))
/// ```
///
/// Source: Reda and Andreas 2004 (NREL/TP-560-34302), equation 42, with the standard atmosphere's
/// pressure and 12 °C.
pub(super) fn refraction_deg(elevation_deg: f64, pressure_share: f64) -> f64 {
    // The radius of the sun's disc and the refraction at the horizon.
    if elevation_deg < -(0.266_67 + 0.566_7) {
        return 0.0;
    }
    let (sin, cos) = libm::sincos((elevation_deg + 10.3 / (elevation_deg + 5.11)).to_radians());
    const AT_SEA: f64 = (1013.25 / 1010.0) * (283.0 / (273.0 + 12.0)) * 1.02 / 60.0;
    pressure_share * AT_SEA * cos / sin
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn refraction_lifts_the_setting_sun_by_half_a_degree() {
        // 34 minutes of arc at the horizon: the almanacs' figure.
        let at_horizon = refraction_deg(-0.566_7, 1.0);
        assert!((at_horizon - 0.566_7).abs() < 0.1, "{at_horizon}");
        assert!(refraction_deg(60.0, 1.0) < 0.011);
        assert!(refraction_deg(-2.0, 1.0).abs() < 1e-12);
    }

    #[test]
    fn air_mass_is_one_overhead_and_about_forty_at_the_horizon() {
        for of in [air_mass_1966, air_mass_1989] {
            assert!((of(0.0).unwrap() - 1.0).abs() < 1e-3);
            assert!((35.0..40.0).contains(&of(90.0).unwrap()));
            assert!(of(90.1).is_none());
        }
    }
}
