//! The `[charging]` section of a cell file: how the cell is charged. A primary cell has none.

use overwinter_model::cell::{Charging, Chemistry, accepted};
use overwinter_model::{Current, Temperature, Voltage};
use serde::{Deserialize, Serialize};
use toml::Spanned;

use crate::fit::clean;
use crate::keys::Reader;
use crate::problem::Problem;

type Number = Spanned<f64>;

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct ChargingKeys {
    efficiency: Number,
    coldest_c: Number,
    warmest_c: Number,
    limit_v: Number,
    limit_v_per_k: Number,
    largest_ma: Number,
}

#[derive(Serialize)]
pub(super) struct ChargingOut {
    efficiency: f64,
    coldest_c: f64,
    warmest_c: f64,
    limit_v: f64,
    limit_v_per_k: f64,
    largest_ma: f64,
}

impl From<&Charging> for ChargingOut {
    fn from(charging: &Charging) -> Self {
        Self {
            efficiency: charging.efficiency,
            coldest_c: clean(charging.coldest.as_celsius()),
            warmest_c: clean(charging.warmest.as_celsius()),
            limit_v: charging.limit.as_volts(),
            limit_v_per_k: charging.limit_per_k,
            largest_ma: clean(charging.largest.as_milliamperes()),
        }
    }
}

/// How the cell is charged; a section in the file of a primary cell is a problem.
pub(super) fn charging(
    reader: &mut Reader,
    keys: &Spanned<ChargingKeys>,
    chemistry: Chemistry,
) -> Charging {
    if !chemistry.rechargeable() {
        let problem = Problem::at(
            keys.span(),
            "a primary cell must not be charged",
            "expected only for a rechargeable chemistry",
        );
        reader.problem(problem);
    }
    let keys = keys.get_ref();
    let mut number = |given: &Number, key, range| reader.number(Some(given), key, range, 1.0);
    let efficiency = number(&keys.efficiency, "efficiency", accepted::EFFICIENCY);
    let limit = number(&keys.limit_v, "limit_v", accepted::VOLTS);
    let limit_per_k = number(&keys.limit_v_per_k, "limit_v_per_k", accepted::VOLTS_PER_K);
    let largest = number(
        &keys.largest_ma,
        "largest_ma",
        accepted::LARGEST_CHARGING_MA,
    );
    let coldest = number(&keys.coldest_c, "coldest_c", accepted::CELSIUS);
    let warmest = number(&keys.warmest_c, "warmest_c", accepted::CELSIUS);
    if coldest > warmest {
        reader.problem(Problem::at(
            keys.coldest_c.span(),
            "`coldest_c` is above `warmest_c`",
            format!("expected at most {}", crate::words::plain(warmest)),
        ));
    }
    Charging {
        efficiency,
        coldest: Temperature::from_celsius(coldest),
        warmest: Temperature::from_celsius(warmest),
        limit: Voltage::from_volts(limit),
        limit_per_k,
        largest: Current::from_milliamperes(largest),
    }
}
