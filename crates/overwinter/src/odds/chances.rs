//! What paths are drawn from.

use overwinter_model::paths::{AirChances, CameraChances, MonthChances};
use overwinter_model::random::{AnomalyLaw, GammaQuantile};

use crate::line::{Camera, Line};

/// How far a camera's draw is off what is said of it, one standard deviation of its logarithm
/// (common practice, no source).
const POWER_SD_LN: f64 = 0.10;

/// How far the time on air is off, one standard deviation of its logarithm (common practice, no
/// source): the signal moves from day to day.
const AIRTIME_SD_LN: f64 = 0.3;

pub(super) fn of_camera(camera: &Camera) -> CameraChances {
    CameraChances {
        stream: stream(&camera.name),
        day_share: GammaQuantile::new(1.35).expect("in range"),
        rate_sd_ln: 0.4,
        power_sd_ln: POWER_SD_LN,
        airtime_sd_ln: AIRTIME_SD_LN,
        between_packs_sd: camera.pack.cell.cell.spread / 2.0,
    }
}

pub(super) fn of_air(_: &Line) -> AirChances {
    let month = MonthChances {
        law: AnomalyLaw::new([0.7, 0.2], -0.25).expect("in range"),
        temperature_sd_k: 4.0,
        range_sd_k: 4.0,
    };
    AirChances {
        months: [month; 12],
        winters_sd_k: 1.2,
    }
}

/// A camera's stream: the same name has the same luck in any company. FNV-1a, a public-domain hash
/// of 32 bits; 0 belongs to the site.
fn stream(name: &str) -> u32 {
    let hash = name.bytes().fold(0x811c_9dc5_u32, |hash, byte| {
        (hash ^ u32::from(byte)).wrapping_mul(0x0100_0193)
    });
    hash.max(1)
}
