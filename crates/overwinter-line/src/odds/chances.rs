//! What paths are drawn from: what a line file says of its spread, in the model's terms.

use overwinter_model::cell::Cell;
use overwinter_model::paths::{AirChances, CameraChances, MonthChances};
use overwinter_model::random::{AnomalyLaw, AnomalyLawError, GammaQuantile, GammaShapeError};

use crate::line::{Camera, Line, PackChoice};

/// How far a camera's draw is off what is said of it, one standard deviation of its logarithm
/// (common practice, no source): figures of one kind of camera differ by more, a metered one's by
/// less.
pub(crate) const POWER_SD_LN: f64 = 0.10;

/// How far the time on air is off what the signal makes of it, one standard deviation of its
/// logarithm (common practice, no source).
const AIRTIME_SD_LN: f64 = 0.3;

/// What may turn out otherwise at one camera on `pack`.
pub(super) fn of_camera(
    camera: &Camera,
    pack: &PackChoice,
) -> Result<CameraChances, GammaShapeError> {
    let counts = camera.activity.counts();
    Ok(CameraChances {
        stream: stream(&camera.name),
        day_share: GammaQuantile::new(counts.dispersion)?,
        rate_sd_ln: counts.rate_sd_ln,
        power_sd_ln: POWER_SD_LN,
        airtime_sd_ln: AIRTIME_SD_LN,
        between_packs_sd: between_packs(&pack.cell.cell),
    })
}

/// Between packs: the grade that somebody bought, and the batch, which is taken to differ half as
/// much as the cells of one pack do (common practice, no source).
fn between_packs(cell: &Cell) -> f64 {
    cell.grade_spread.hypot(cell.spread / 2.0)
}

/// How the days of the line's site swing.
pub(super) fn of_air(line: &Line) -> Result<AirChances, AnomalyLawError> {
    let spread = line.climate.spread();
    let mut months = Vec::with_capacity(12);
    for month in spread.months() {
        let persistence = [month.temperature_lag1, month.clearness_lag1];
        months.push(MonthChances {
            law: AnomalyLaw::new(persistence, month.correlation)?,
            temperature_sd_k: month.temperature_sd_k,
            range_sd_k: month.range_sd_k,
            clearness_sd: month.clearness_sd,
        });
    }
    Ok(AirChances {
        months: std::array::from_fn(|month| months[month]),
        winters_sd_k: spread.winters_sd_k(),
    })
}

/// A camera's stream: the same name has the same luck in any company. FNV-1a, a public-domain hash
/// of 32 bits; 0 belongs to the site.
fn stream(name: &str) -> u32 {
    let hash = name.bytes().fold(0x811c_9dc5_u32, |hash, byte| {
        (hash ^ u32::from(byte)).wrapping_mul(0x0100_0193)
    });
    hash.max(1)
}
