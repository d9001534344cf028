//! Months of clear sky on tilted planes: `plane_of_array_clear_sky.csv`.

use std::collections::HashMap;

use overwinter_model::harvest::{Light, Plane, SkyDay, SkyModel, Sun, clear_sky, split};
use overwinter_model::{Day, Place, Time};
use overwinter_tests::held::Held;
use overwinter_tests::tables::{Row, Table};

use crate::Sites;

/// 2027-01-01; the table is of that year, by hours of UTC.
const NEW_YEAR: Day = Day::from_days_since_2000(9862);

/// The same pair of models, summed over a month. The table's sun has air of 10 degrees, ours of 12.
const TOLERANCE: f64 = 0.005;
/// Below this a month's light on a plane says nothing, Wh/m2 a day.
const LEAST_WH_PER_M2: f64 = 50.0;

const ALBEDO: f64 = 0.2;
const TURBIDITY: f64 = 3.0;

/// Mean daily light by month, Wh/m2.
type Months = [f64; 12];

/// Site, clear sky, transposition, tilt and azimuth as the table spells them.
type Case = [String; 5];

pub(super) fn hold(held: &mut Held, table: &Table, sites: &Sites) {
    let mut made: HashMap<Case, Option<Months>> = HashMap::new();
    for row in &table.rows {
        let case = [
            "site",
            "clear_sky",
            "transposition",
            "tilt_deg",
            "azimuth_deg_from_north",
        ]
        .map(|column| row.text(column).to_owned());
        let id = format!("{} {}", case.join(" "), row.text("month"));
        let months = made.entry(case).or_insert_with(|| months(row, sites));
        let month = row.number("month").map(|month| month as usize - 1);
        let ours = months.and_then(|months| months.get(month?).copied());
        match (row.number("poa_wh_per_m2_day"), ours) {
            (Some(reference), Some(ours)) => held.near(
                &id,
                "clear_sky_poa_wh_per_m2_day",
                (reference, ours),
                TOLERANCE,
                LEAST_WH_PER_M2,
            ),
            _ => held
                .points
                .skip(&id, "site, sky or plane is not one that the program knows"),
        }
    }
}

fn months(row: &Row, sites: &Sites) -> Option<Months> {
    let &(latitude, longitude, elevation_m) = sites.get(row.text("site"))?;
    let place = Place::new(latitude, longitude, 0.0).ok()?;
    let sky: fn(&Sun, f64) -> Light = match row.text("clear_sky") {
        "haurwitz+erbs" => |sun, _| split::erbs(clear_sky::haurwitz(sun), sun),
        "ineichen_tl3" => |sun, elevation_m| clear_sky::ineichen(sun, TURBIDITY, elevation_m),
        _ => return None,
    };
    let model = match row.text("transposition") {
        "isotropic" => SkyModel::Isotropic,
        "haydavies" => SkyModel::HayDavies,
        _ => return None,
    };
    let plane = Plane::new(
        row.number("tilt_deg")?,
        row.number("azimuth_deg_from_north")?,
    )
    .ok()?;
    let mut months = [0.0; 12];
    for day in (0..365).map(|days| NEW_YEAR.plus(days)) {
        let length = f64::from(day.days_in_month());
        for sun in SkyDay::new(&place, day, elevation_m, Time::ZERO).suns() {
            let light = plane.light(sun, &sky(sun, elevation_m), ALBEDO, model);
            months[day.month_index()] += light.total().as_w_per_m2() / length;
        }
    }
    Some(months)
}
