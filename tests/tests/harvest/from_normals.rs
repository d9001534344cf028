//! Light on tilted planes from a month's clearness and its spread alone.

use std::collections::BTreeMap;

use overwinter_model::harvest::{Plane, SkyDay, SkyModel};
use overwinter_model::{Place, Time};
use overwinter_tests::held::Held;
use overwinter_tests::points::Measure;
use overwinter_tests::tables::{Row, Table, file_name};

use super::{ALBEDO, days, plane_of};
use crate::{Sources, month_index};

/// By month up to 50 degrees of latitude and beyond, against Perez on the file's own beam and
/// diffuse. A typical year's month is one real month whose clear days may fall early or late in it;
/// at 63 N in November DISC on the file's own hours is already 23 % above the file's own beam.
const TOLERANCE: f64 = 0.10;
const TOLERANCE_FAR_NORTH: f64 = 0.25;
/// A year of months may not lean to one side by more than this.
const TOLERANCE_OF_YEAR: f64 = 0.06;
/// Below this a month's light on a plane says nothing, Wh/m2 a day.
const LEAST_WH_PER_M2: f64 = 100.0;

/// Mean and spread of the clearness of a month's days.
type Clearness = (f64, f64);

pub(super) fn hold(held: &mut Held, table: &Table, climate: &str, sources: &Sources) {
    let (Some(place), Some(elevation_m), Some(months)) = (
        sources.place(climate),
        sources.elevation_m(climate),
        clearness(climate, sources),
    ) else {
        let reason = "neither its place nor its normals are here";
        held.points.skip(&file_name(&table.path), reason);
        return;
    };
    let skies: Vec<SkyDay> = days()
        .map(|day| SkyDay::new(&place, day, elevation_m, Time::ZERO))
        .collect();
    let share = if place.latitude_deg().abs() <= 50.0 {
        TOLERANCE
    } else {
        TOLERANCE_FAR_NORTH
    };
    let mut years = Years::default();
    for row in &table.rows {
        let plane = ["tilt_deg", "azimuth_deg_from_north", "month"].map(|column| row.text(column));
        let id = format!("{climate} {}", plane.join(" "));
        let (Some(plane), Some(month), Some(reference)) =
            (plane_of(row), month_index(row), row.number("perez"))
        else {
            held.points
                .skip(&id, "plane, month or value cannot be read");
            continue;
        };
        let ours = month_on_plane(&skies, &plane, month, months[month]);
        let quantity = format!("from_normals_wh_per_m2_day {climate}");
        if is_usual(row, &place) {
            held.near(&id, &quantity, (reference, ours), share, LEAST_WH_PER_M2);
            let year = years.entry(row.text("tilt_deg").to_owned()).or_default();
            year.0 += reference;
            year.1 += ours;
        } else {
            let quantity = format!("{quantity} steep or turned away");
            let least = Measure::RelativeAbove(LEAST_WH_PER_M2);
            held.points.compare(&id, &quantity, reference, ours, least);
        }
    }
    for (tilt, pair) in years {
        let id = format!("{climate} {tilt} year");
        held.near(&id, "from_normals_year", pair, TOLERANCE_OF_YEAR, 1.0);
    }
}

/// Sums over the months, the reference's and ours, by tilt.
type Years = BTreeMap<String, (f64, f64)>;

/// Planes towards the equator, tilted by the latitude at most. Steeper ones and those turned away are
/// only printed: there the sky model decides, and Hay-Davies is up to 30 % away from Perez.
fn is_usual(row: &Row, place: &Place) -> bool {
    let equator = if place.latitude_deg() >= 0.0 {
        180.0
    } else {
        0.0
    };
    let tilt = row.number("tilt_deg").unwrap_or(90.0);
    row.number("azimuth_deg_from_north") == Some(equator)
        && tilt <= place.latitude_deg().abs().round()
}

/// Mean daily light of a month on a plane.
fn month_on_plane(skies: &[SkyDay], plane: &Plane, month: usize, (mean, spread): Clearness) -> f64 {
    let of_month = days()
        .zip(skies)
        .filter(|(day, _)| day.month_index() == month);
    let mut sum = 0.0;
    let mut length = 0.0;
    for (_, sky) in of_month {
        length += 1.0;
        let hours = sky.expected(mean, spread, |sun, light| {
            plane.light(sun, light, ALBEDO, SkyModel::HayDavies).total()
        });
        sum += hours.iter().map(|light| light.as_w_per_m2()).sum::<f64>();
    }
    sum / length
}

/// The months of `CLIMATE_normals.csv`.
fn clearness(climate: &str, sources: &Sources) -> Option<[Clearness; 12]> {
    let table = sources.normals_table(climate)?;
    let months: Option<Vec<Clearness>> = table
        .rows
        .iter()
        .map(|row| Some((row.number("clearness_mean")?, row.number("clearness_sd")?)))
        .collect();
    months?.try_into().ok()
}
