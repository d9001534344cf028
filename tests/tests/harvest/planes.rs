//! A file's hours replayed onto tilted planes: `*_plane_of_array_*.csv`.

use std::collections::HashMap;

use overwinter_tests::held::Held;
use overwinter_tests::tables::{Row, Table};

use super::{Sky, Year, climate_of, monthly, plane_of};
use crate::month_index;

/// The same models on the same hours, by month.
const TOLERANCE: f64 = 0.005;
/// With an offset of the light that we find ourselves, to about a minute.
const TOLERANCE_WITH_OFFSET: f64 = 0.01;
/// Below this a month's light on a plane says nothing, Wh/m2 a day.
const LEAST_WH_PER_M2: f64 = 100.0;

const MODELS: [&str; 7] = [
    "isotropic",
    "haydavies",
    "perez",
    "erbs_isotropic",
    "erbs_haydavies",
    "disc_haydavies",
    "haydavies_albedo_0.7",
];

/// Mean daily light by month on one plane for each of some skies.
type Months = Vec<[f64; 12]>;

/// Every model of `*_plane_of_array_models.csv`.
pub(super) fn hold_models(held: &mut Held, table: &Table, year: &Year) {
    let tolerance = if year.light_offset.as_seconds() == 0.0 {
        TOLERANCE
    } else {
        TOLERANCE_WITH_OFFSET
    };
    let columns = MODELS.map(|model| (model, model));
    hold_columns(held, table, year, &columns, tolerance);
}

/// `*_plane_of_array_haydavies.csv`.
pub(super) fn hold_hay_davies(held: &mut Held, table: &Table, year: &Year) {
    let columns = [("poa_wh_per_m2_day", "haydavies")];
    hold_columns(held, table, year, &columns, TOLERANCE);
}

fn hold_columns(
    held: &mut Held,
    table: &Table,
    year: &Year,
    columns: &[(&str, &str)],
    tolerance: f64,
) {
    let climate = climate_of(table);
    let mut made: HashMap<[String; 2], Option<Months>> = HashMap::new();
    for row in &table.rows {
        let plane =
            ["tilt_deg", "azimuth_deg_from_north"].map(|column| row.text(column).to_owned());
        let id = format!("{climate} {} {}", plane.join(" "), row.text("month"));
        let months = made
            .entry(plane)
            .or_insert_with(|| months(row, year, columns));
        let (Some(months), Some(month)) = (months.as_ref(), month_index(row)) else {
            held.points.skip(&id, "plane or month cannot be read");
            continue;
        };
        for ((column, model), months) in columns.iter().zip(months) {
            match row.number(column) {
                Some(reference) => {
                    let quantity = format!("{model}_wh_per_m2_day");
                    let pair = (reference, months[month]);
                    held.near(&id, &quantity, pair, tolerance, LEAST_WH_PER_M2);
                }
                None => held.points.skip(&id, &format!("no value in {column}")),
            }
        }
    }
}

fn months(row: &Row, year: &Year, columns: &[(&str, &str)]) -> Option<Months> {
    let plane = plane_of(row)?;
    columns
        .iter()
        .map(|(_, model)| Some(monthly(&year.on_plane(&plane, Sky::named(model)?))))
        .collect()
}
