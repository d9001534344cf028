//! `[activity]`: what passes, how unevenly, and how well that is known.

use std::ops::Range;

use overwinter_model::{Activity, Counts, Pattern};
use toml::Spanned;

use super::file::ActivityKeys;
use crate::keys::Reader;
use crate::problem::Problem;

/// Reads it for one camera, whose name stands at `camera`.
pub(super) fn read(
    reader: &mut Reader,
    keys: &ActivityKeys,
    camera: Range<usize>,
) -> Option<Activity> {
    reader.required(
        keys.triggers_per_day.as_ref(),
        "triggers_per_day",
        camera.clone(),
        "say how often a day something sets the camera off: 2 is a quiet place, 10 a busy trail, \
         40 a feeder",
    )?;
    let given = keys.triggers_per_day.as_ref();
    let rate = reader.number(given, "triggers_per_day", 0.0..=5000.0, 0.0);
    let factors = keys.by_month.as_ref().map_or(Some([1.0; 12]), |given| {
        reader.numbers(given, "by_month", 0.0..=100.0)
    })?;
    let patterns = [
        ("even", Pattern::Even),
        ("day", Pattern::Day),
        ("night", Pattern::Night),
        ("twilight", Pattern::Twilight),
    ];
    let mut pattern = reader.choice(keys.pattern.as_ref(), "pattern", &patterns, Pattern::Even);
    if let Some(weights) = &keys.by_hour {
        if keys.pattern.is_some() {
            reader.problem(Problem::at(
                weights.span(),
                "`by_hour` and `pattern` say the same thing twice",
                "give one of them",
            ));
        }
        pattern = Pattern::ByHour(reader.numbers(weights, "by_hour", 0.0..=1e6)?);
    }
    let activity = Activity::new(factors.map(|factor| factor * rate), pattern);
    match activity.and_then(|activity| activity.with_counts(read_counts(reader, keys))) {
        Ok(activity) => Some(activity),
        Err(why) => {
            let span = keys.place_of("by_hour").unwrap_or(camera);
            reader.problem(Problem::at(span, why.to_string(), "expected some activity"));
            None
        }
    }
}

fn read_counts(reader: &mut Reader, keys: &ActivityKeys) -> Counts {
    let usual = Counts::USUAL;
    let mut number = |given: Option<&Spanned<f64>>, key: &str, range, usual| {
        reader.number(given, key, range, usual)
    };
    let false_share = keys.false_share.as_ref();
    let dispersion = keys.dispersion.as_ref();
    let factor = keys.rate_factor.as_ref();
    Counts {
        false_share: number(false_share, "false_share", 0.0..=1.0, usual.false_share),
        dispersion: number(dispersion, "dispersion", 0.1..=1000.0, usual.dispersion),
        rate_sd_ln: number(factor, "rate_factor", 1.0..=20.0, usual.rate_sd_ln.exp()).ln(),
    }
}
