//! `[site.normals]`: a climate that the line file brings along.

use std::ops::{Range, RangeInclusive};

use toml::Spanned;

use super::climate::{Climate, model_normals, model_spread};
use super::file::NormalsKeys;
use crate::keys::Reader;
use crate::weather::{self, AirNormals, BELIEVED_C, KnownSpread, MonthAir};

/// What to do about temperatures that are none in degrees Celsius, if they may be in another unit.
fn other_unit(values: &[f64]) -> Option<&'static str> {
    let all_within = |range: RangeInclusive<f64>| values.iter().all(|value| range.contains(value));
    let hot = values.iter().any(|value| *value > *BELIEVED_C.end());
    if all_within(weather::KELVIN) {
        Some(weather::FROM_KELVIN)
    } else {
        // The hottest day on earth had 134 degrees Fahrenheit, the coldest -128.
        (hot && all_within(-130.0..=135.0)).then_some(weather::FROM_FAHRENHEIT)
    }
}

/// Reads the months, and what is known of their spread.
pub(super) fn read(
    reader: &mut Reader,
    keys: &NormalsKeys,
    section: Range<usize>,
) -> Option<Climate> {
    let mut twelve = |given: Option<&Spanned<Vec<f64>>>, key: &str| {
        let help = "twelve temperatures, January first";
        reader.required(given, key, section.clone(), help)?;
        let read = reader.numbers::<12>(given?, key, BELIEVED_C);
        if read.is_none()
            && let (Some(advice), Some(problem)) =
                (other_unit(given?.get_ref()), reader.problems.last_mut())
        {
            problem.help.get_or_insert(advice.to_owned());
        }
        read
    };
    let mean = twelve(keys.mean_c.as_ref(), "mean_c");
    let high = twelve(keys.daily_max_c.as_ref(), "daily_max_c");
    let low = twelve(keys.daily_min_c.as_ref(), "daily_min_c");
    let known = read_known(reader, keys);
    let (mean, high, low) = (mean?, high?, low?);
    let air = AirNormals {
        months: std::array::from_fn(|month| MonthAir {
            mean_c: mean[month],
            mean_daily_max_c: high[month],
            mean_daily_min_c: low[month],
        }),
    };
    // The mean is what has to lie between the other two.
    let span = keys.place_of("mean_c").unwrap_or(section);
    let normals = model_normals(reader, &air, span.clone())?;
    let spread = model_spread(reader, known.with_normals(&air), span)?;
    Some(Climate::own(air, normals, spread))
}

/// Ranges are narrower than the model's where a value beyond them is a slip: a winter that forgets
/// nothing, days that stray by 20 K.
fn read_known(reader: &mut Reader, keys: &NormalsKeys) -> KnownSpread {
    let mut months = |given: Option<&Spanned<Vec<f64>>>, key: &str, highest: f64| {
        given.and_then(|given| reader.numbers::<12>(given, key, 0.0..=highest))
    };
    let daily_sd_k = months(keys.daily_sd_c.as_ref(), "daily_sd_c", 20.0);
    let clearness = months(keys.clearness.as_ref(), "clearness", 1.0);
    let clearness_sd = months(keys.clearness_sd.as_ref(), "clearness_sd", 0.5);
    let mut one = |given: Option<&Spanned<f64>>, key: &str, highest: f64| {
        given.map(|given| reader.number(Some(given), key, 0.0..=highest, 0.0))
    };
    KnownSpread {
        daily_sd_k,
        lag1: one(keys.persistence.as_ref(), "persistence", 0.95),
        clearness,
        clearness_sd,
        winters_sd_k: one(keys.winters_sd_c.as_ref(), "winters_sd_c", 8.0),
    }
}
