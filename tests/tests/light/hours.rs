//! Single hours with their inputs: `clear_sky_hours.csv` and `transposition_real_sky.csv`.

use overwinter_model::harvest::{Light, Plane, SkyModel, Sun, clear_sky, split};
use overwinter_model::{Direction, Irradiance, Place, SunDay, Time};
use overwinter_tests::held::Held;
use overwinter_tests::tables::{Row, Table, file_name};

use super::{hold_light, light};
use crate::{Sites, moment};

/// Tilt and azimuth of the tables' planes north of the equator; mirrored south of it.
const PLANES: [(&str, f64, f64); 6] = [
    ("flat", 0.0, 180.0),
    ("30S", 30.0, 180.0),
    ("60S", 60.0, 180.0),
    ("90S", 90.0, 180.0),
    ("45ESE", 45.0, 120.0),
    ("60N", 60.0, 0.0),
];

const MODELS: [(&str, SkyModel); 3] = [
    ("isotropic", SkyModel::Isotropic),
    ("haydavies", SkyModel::HayDavies),
    ("perez", SkyModel::Perez),
];

const ALBEDO: f64 = 0.2;

/// Height of the stations whose hours the real sky is from: headers of their files.
const STATIONS: [(&str, f64); 3] = [
    ("greensboro", 273.0),
    ("chicago", 201.0),
    ("northway", 522.0),
];

/// Turbidity that the clear-sky table was made with.
const TURBIDITY: f64 = 3.0;

pub(super) fn hold(held: &mut Held, table: &Table, sites: &Sites) {
    for row in &table.rows {
        let name = format!("{}{}", row.text("site"), row.text("climate"));
        let id = format!("{name} {}", row.text("time_utc"));
        let Some(hour) = Hour::read(row, &name, sites) else {
            let reason = format!(
                "place or inputs cannot be read in {}",
                file_name(&table.path)
            );
            held.points.skip(&id, &reason);
            continue;
        };
        if table.has(&["ineichen_ghi"]) {
            hour.hold_clear_sky(held, &id, row);
        } else {
            hour.hold_split(held, &id, row);
        }
        hour.hold_planes(held, &id, row);
    }
}

/// A row's inputs.
struct Hour {
    latitude_deg: f64,
    elevation_m: f64,
    sun: Sun,
    light: Light,
}

impl Hour {
    fn read(row: &Row, name: &str, sites: &Sites) -> Option<Self> {
        let of_station = || {
            let station = STATIONS.iter().find(|(station, _)| *station == name)?;
            let number = |column| row.number(column);
            Some((number("latitude_deg")?, number("longitude_deg")?, station.1))
        };
        let (latitude_deg, longitude_deg, elevation_m) =
            sites.get(name).copied().or_else(of_station)?;
        let place = Place::new(latitude_deg, longitude_deg, 0.0).ok()?;
        let time = row.text("time_utc");
        // The real hours have no year; their sun is that of 2027.
        let (day, hours) = moment(time).or_else(|| moment(&format!("2027-{time}")))?;
        let from_place = Sun::at(
            &SunDay::new(&place, day),
            Time::from_hours(hours),
            light(row, "dni_extra")?,
            elevation_m,
        );
        let sun = Sun {
            apparent: Direction::from_angles(
                90.0 - row.number("apparent_zenith_deg")?,
                row.number("azimuth_deg")?,
            ),
            ..from_place
        };
        let of = |real: &str, clear: &str| light(row, real).or_else(|| light(row, clear));
        let light = Light {
            global: of("ghi", "ineichen_ghi")?,
            beam: of("dni", "ineichen_dni")?,
            diffuse: of("dhi", "ineichen_dhi")?,
        };
        Some(Self {
            latitude_deg,
            elevation_m,
            sun,
            light,
        })
    }

    fn hold_clear_sky(&self, held: &mut Held, id: &str, row: &Row) {
        hold_light(
            held,
            id,
            row,
            "haurwitz_ghi",
            clear_sky::haurwitz(&self.sun),
        );
        let ineichen = clear_sky::ineichen(&self.sun, TURBIDITY, self.elevation_m);
        hold_light(held, id, row, "ineichen_ghi", ineichen.global);
        hold_light(held, id, row, "ineichen_dni", ineichen.beam);
        hold_light(held, id, row, "ineichen_dhi", ineichen.diffuse);
    }

    fn hold_split(&self, held: &mut Held, id: &str, row: &Row) {
        let erbs = split::erbs(self.light.global, &self.sun);
        hold_light(held, id, row, "erbs_dhi", erbs.diffuse);
        hold_light(held, id, row, "erbs_dni", erbs.beam);
        let disc = split::disc(self.light.global, &self.sun);
        hold_light(held, id, row, "disc_dni", disc.beam);
    }

    fn hold_planes(&self, held: &mut Held, id: &str, row: &Row) {
        for (name, tilt_deg, azimuth_deg) in PLANES {
            let azimuth_deg = if self.latitude_deg < 0.0 {
                (540.0_f64 - azimuth_deg) % 360.0
            } else {
                azimuth_deg
            };
            let plane = Plane::new(tilt_deg, azimuth_deg).expect("angles in range");
            for (model_name, model) in MODELS {
                let ours: Irradiance = plane.light(&self.sun, &self.light, ALBEDO, model).total();
                hold_light(held, id, row, &format!("{name}_{model_name}"), ours);
            }
        }
    }
}
