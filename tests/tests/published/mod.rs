//! Worked examples and published single values.

use overwinter_model::harvest::{Sun, outside_atmosphere};
use overwinter_model::{
    Direction, Place, SUNRISE_ALTITUDE_DEG, SunAbove, SunDay, Time, sun_position,
};
use overwinter_tests::held::Held;
use overwinter_tests::tables::{Row, Table};

use super::{day, hours};

/// Places of the published cases, as the tables' notes give them.
fn place_of(case: &str) -> Option<Place> {
    let (latitude, longitude, zone_h) = match case {
        "spa" | "spa-true" | "golden" | "golden-true" | "golden-usno" => {
            (39.742_476, -105.178_6, -7.0)
        }
        "south-35" => (-35.0, 0.0, 0.0),
        _ => return None,
    };
    Place::new(latitude, longitude, zone_h).ok()
}

pub(super) fn hold(held: &mut Held, table: &Table) {
    for row in &table.rows {
        let id = format!("{} {}", row.text("case"), row.text("quantity"));
        if row.text("note").starts_with("TRAP") {
            held.points
                .skip(&id, "the published evening is that of the day before");
            continue;
        }
        match place_of(row.text("case")).and_then(|place| Published::of(&place, row)) {
            Some(case) => {
                held.within(
                    &id,
                    case.quantity,
                    case.reference,
                    case.ours,
                    case.tolerance,
                );
            }
            None => held
                .points
                .skip(&id, "a quantity that the program does not give"),
        }
    }
}

/// A published value beside ours, in degrees or hours.
struct Published {
    quantity: &'static str,
    reference: f64,
    ours: f64,
    tolerance: f64,
}

impl Published {
    fn of(place: &Place, row: &Row) -> Option<Self> {
        Self::angle(place, row).or_else(|| Self::time(place, row))
    }

    /// The worked example's instant, 2003-10-17 12:30:30.
    fn angle(place: &Place, row: &Row) -> Option<Self> {
        let instant = Time::from_hours(12.0 + 30.5 / 60.0);
        let day = day("2003-10-17")?;
        let sun = sun_position(place, day, instant);
        let outside = outside_atmosphere(day);
        let seen = Sun::at(&SunDay::new(place, day), instant, outside, 1830.14).apparent;
        let apparent_deg = seen.elevation_deg();
        // Slope 30 degrees, towards 170 degrees from north.
        let plane = Direction::from_angles(90.0 - 30.0, 170.0);
        let (quantity, ours) = match row.text("quantity") {
            "geometric_elevation" => ("elevation_deg", sun.elevation_deg),
            "azimuth" => ("azimuth_deg", sun.azimuth_deg),
            "refraction" => ("refraction_deg", apparent_deg - sun.elevation_deg),
            "apparent_elevation" => ("elevation_deg", apparent_deg),
            "zenith" => ("zenith_deg", 90.0 - apparent_deg),
            "incidence_on_tilted_plane" => ("incidence_deg", seen.angle_deg(plane)),
            _ => return None,
        };
        Some(Self {
            quantity,
            reference: row.number("value")?,
            ours,
            tolerance: row.number("tolerance")?,
        })
    }

    /// Quantities such as `sunset_local_2015-01-02`; without a date, that of the worked example.
    fn time(place: &Place, row: &Row) -> Option<Self> {
        let name = row.text("quantity");
        let date = name.rsplit('_').next().and_then(day);
        let sun = SunDay::new(place, date.or_else(|| day("2003-10-17"))?);
        let (quantity, ours) = match (name.split('_').next()?, sun.above(SUNRISE_ALTITUDE_DEG)) {
            ("transit", _) => ("noon_h", sun.noon()),
            ("sunrise", SunAbove::Between { up, .. }) => ("sunrise_h", up),
            ("sunset", SunAbove::Between { down, .. }) => ("sunset_h", down),
            _ => return None,
        };
        let tolerance_s: f64 = row.text("tolerance").strip_suffix(" s")?.parse().ok()?;
        Some(Self {
            quantity,
            reference: hours(row.text("value"))?,
            ours: ours.as_hours(),
            tolerance: tolerance_s / 3600.0,
        })
    }
}
