//! Light: clear skies, the split into beam and diffuse, and tilted planes.

mod hours;
mod months;
mod pvwatts;

use overwinter_model::Irradiance;
use overwinter_tests::held::Held;
use overwinter_tests::tables::{Row, Table};

use crate::Sites;

/// The same formulas on the same input: half a per cent, or half a watt per square metre where that
/// is more. The tables keep one digit of their inputs.
const SAME_FORMULA: f64 = 0.005;
const SAME_FORMULA_LEAST_W_PER_M2: f64 = 100.0;

/// Holds a table of light; `false` if it is another kind of table.
pub(crate) fn hold(held: &mut Held, table: &Table, sites: &Sites) -> bool {
    if table.has(&["apparent_zenith_deg", "dni_extra", "flat_isotropic"]) {
        hours::hold(held, table, sites);
    } else if table.has(&["clear_sky", "transposition", "poa_wh_per_m2_day"]) {
        months::hold(held, table, sites);
    } else if table.has(&["plane_w_m2", "cell_c", "dc_w"]) {
        pvwatts::hold_hours(held, table);
    } else if table.has(&["plane_wh_m2_month", "dc_wh_month_4kw"]) {
        pvwatts::hold_months(held, table);
    } else {
        return false;
    }
    true
}

/// A column of light in W/m2.
fn light(row: &Row, column: &str) -> Option<Irradiance> {
    row.number(column).map(Irradiance::from_w_per_m2)
}

/// Compares light that comes out of the same formulas.
fn hold_light(held: &mut Held, id: &str, row: &Row, column: &str, ours: Irradiance) {
    match row.number(column) {
        Some(reference) => held.near(
            id,
            column,
            (reference, ours.as_w_per_m2()),
            SAME_FORMULA,
            SAME_FORMULA_LEAST_W_PER_M2,
        ),
        None => held.points.skip(&format!("{id} {column}"), "no value"),
    }
}
