//! Light on planes and what a store makes of it, from hourly files and from normals.

mod from_normals;
mod planes;
mod sampled;
mod sizing;
mod year;

use overwinter_model::harvest::{Plane, SkyModel};
use overwinter_model::{Day, Place};
use overwinter_tests::held::Held;
use overwinter_tests::tables::{Row, Table, file_name};

use crate::Sources;
use year::Year;
pub(crate) use year::{as_epw, is_hours};

/// Albedo of the tables' ground.
const ALBEDO: f64 = 0.2;

/// Holds a table of light or of a store; `false` if it is another kind of table.
pub(crate) fn hold(held: &mut Held, table: &Table, sources: &Sources) -> bool {
    let plane = table.has(&["tilt_deg", "azimuth_deg_from_north", "month"]);
    if plane && table.has(&["isotropic", "haydavies", "perez", "erbs_isotropic"]) {
        let climate = climate_of(table);
        if let Some(year) = year_of(held, table, sources) {
            planes::hold_models(held, table, &year);
        }
        from_normals::hold(held, table, &climate, sources);
    } else if plane && table.has(&["poa_wh_per_m2_day"]) {
        // This kind of table takes the sun at mid-hour, also where the light is not from there.
        if let Some(year) = year_of(held, table, sources) {
            planes::hold_hay_davies(held, table, &year.at_mid_hour());
        }
    } else if table.has(&["panel_w", "store_wh", "load_w", "hours_short"]) {
        if let Some(year) = year_of(held, table, sources) {
            // So does the kind that knows one lock-out only.
            let year = if table.has(&["no_charge_below_0c"]) {
                year.at_mid_hour()
            } else {
                let climate = climate_of(table);
                if let Some(file) = sources.weather(&climate) {
                    sampled::hold(held, &climate, &year, &file);
                }
                year
            };
            sizing::hold(held, table, &year);
        }
    } else {
        return false;
    }
    true
}

/// The climate that a table is about.
fn climate_of(table: &Table) -> String {
    let first = table.rows.first();
    first.map_or("", |row| row.text("climate")).to_owned()
}

/// The hours that a table was made from, or a note that they are not here.
fn year_of(held: &mut Held, table: &Table, sources: &Sources) -> Option<Year> {
    let year = Year::find(&climate_of(table), sources);
    if year.is_none() {
        held.points.skip(
            &file_name(&table.path),
            "skipped: its hourly file is not here",
        );
    }
    year
}

/// The plane of a row.
fn plane_of(row: &Row) -> Option<Plane> {
    let tilt = row.number("tilt_deg")?;
    Plane::new(tilt, row.number("azimuth_deg_from_north")?).ok()
}

/// A plane towards the equator, tilted by the latitude to the degree.
fn plane_of_latitude(place: &Place) -> Plane {
    let azimuth = if place.latitude_deg() >= 0.0 {
        180.0
    } else {
        0.0
    };
    Plane::new(place.latitude_deg().abs().round(), azimuth).expect("angles in range")
}

/// 2027-01-01, a year without a leap day, as the files have none.
const NEW_YEAR: Day = Day::from_days_since_2000(9862);

/// The days of that year.
fn days() -> impl Iterator<Item = Day> {
    (0..365).map(|days| NEW_YEAR.plus(days))
}

/// Mean daily sums by month of something by the hour.
fn monthly(hours: &[f64]) -> [f64; 12] {
    let mut months = [0.0; 12];
    for (day, hours) in days().zip(hours.chunks(24)) {
        months[day.month_index()] += hours.iter().sum::<f64>() / f64::from(day.days_in_month());
    }
    months
}

/// Where the light of a table comes from.
#[derive(Clone, Copy)]
struct Sky {
    split: Split,
    model: SkyModel,
    albedo: f64,
}

/// Beam and diffuse as in the file, or found from the global light.
#[derive(Clone, Copy)]
enum Split {
    File,
    Erbs,
    Disc,
}

impl Sky {
    /// By the name that the tables give it.
    fn named(name: &str) -> Option<Self> {
        let of = |split, model, albedo| {
            Some(Self {
                split,
                model,
                albedo,
            })
        };
        match name {
            "isotropic" => of(Split::File, SkyModel::Isotropic, ALBEDO),
            "haydavies" => of(Split::File, SkyModel::HayDavies, ALBEDO),
            "perez" => of(Split::File, SkyModel::Perez, ALBEDO),
            "erbs_isotropic" => of(Split::Erbs, SkyModel::Isotropic, ALBEDO),
            "erbs_haydavies" => of(Split::Erbs, SkyModel::HayDavies, ALBEDO),
            "disc_haydavies" => of(Split::Disc, SkyModel::HayDavies, ALBEDO),
            "haydavies_albedo_0.7" => of(Split::File, SkyModel::HayDavies, 0.7),
            _ => None,
        }
    }
}
