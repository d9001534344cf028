//! An outside result: PVWatts (NREL) for 39.73 N, 105.18 W, plane 20 degrees to the south.
//!
//! Its hours are three days of each month; its months are whole. Light on the plane is held on the
//! hours; direct current on both, for the months by what the three days make of the month's light.

use overwinter_model::harvest::{Light, Panel, Plane, SkyModel, Sun, outside_atmosphere};
use overwinter_model::{Day, Irradiance, Place, Power, SunDay, Temperature, Time};
use overwinter_tests::files::data;
use overwinter_tests::held::Held;
use overwinter_tests::tables::{Row, Table, file_name};
use time::{Date, Month};

use super::light;

const ELEVATION_M: f64 = 1820.0;
const ALBEDO: f64 = 0.2;

/// PVWatts' own standard module and losses (Dobos, NREL/TP-6A20-62641, 2014).
const PANEL: Panel = Panel {
    per_kelvin: -0.0047,
    losses: 0.14,
    ..Panel::rated(Power::from_watts(4000.0))
};

/// By month. PVWatts' sky is that of Perez. Its direct current knows wind and the glass's
/// reflections at low sun, which the panel here leaves out.
const PEREZ: f64 = 0.003;
const HAY_DAVIES: f64 = 0.02;
const DIRECT_CURRENT: f64 = 0.05;

pub(super) fn hold_hours(held: &mut Held, table: &Table) {
    for (month, sums) in (1..).zip(Sums::by_month(table, held)) {
        let id = format!("pvwatts {month}");
        for (quantity, reference, ours, share) in [
            ("plane_perez_wh_per_m2", sums.plane, sums.perez, PEREZ),
            (
                "plane_haydavies_wh_per_m2",
                sums.plane,
                sums.hay_davies,
                HAY_DAVIES,
            ),
            ("dc_wh", sums.dc, sums.our_dc, DIRECT_CURRENT),
        ] {
            held.near(&id, quantity, (reference, ours), share, 1.0);
        }
    }
}

pub(super) fn hold_months(held: &mut Held, table: &Table) {
    let hours = Table::read(&data("sun").join("pvwatts_golden_hours.csv")).expect("a table");
    let days = Sums::by_month(&hours, held);
    for row in &table.rows {
        let id = format!("pvwatts {}", row.text("month"));
        let month = row.number("month").and_then(|m| days.get(m as usize - 1));
        let given = (
            row.number("plane_wh_m2_month"),
            row.number("dc_wh_month_4kw"),
        );
        let (Some(days), (Some(plane), Some(dc))) = (month, given) else {
            held.points.skip(&id, "month or values cannot be read");
            continue;
        };
        let ours = plane * days.our_dc / days.perez;
        held.near(&id, "dc_wh_month", (dc, ours), DIRECT_CURRENT, 1.0);
    }
}

/// Sums over the hours of a month's three days, Wh and Wh/m2.
#[derive(Clone, Copy, Default)]
struct Sums {
    plane: f64,
    dc: f64,
    perez: f64,
    hay_davies: f64,
    our_dc: f64,
}

impl Sums {
    fn by_month(table: &Table, held: &mut Held) -> [Self; 12] {
        let mut months = [Self::default(); 12];
        for row in &table.rows {
            match Hour::read(row) {
                Some(hour) => hour.add_to(&mut months[hour.day.month_index()]),
                None => held
                    .points
                    .skip(&file_name(&table.path), "an hour that cannot be read"),
            }
        }
        months
    }
}

/// One hour of the table.
struct Hour {
    day: Day,
    sun: Sun,
    light: Light,
    air: Temperature,
    plane_w_per_m2: f64,
    dc_w: f64,
}

impl Hour {
    fn read(row: &Row) -> Option<Self> {
        let month = Month::try_from(row.number("month")? as u8).ok()?;
        // A typical year has no year; 2027 for the sun's place.
        let date = Date::from_calendar_date(2027, month, row.number("day")? as u8).ok()?;
        let day = Day::from(date);
        let place = Place::new(39.73, -105.18, -7.0).ok()?;
        let middle = Time::from_hours(row.number("hour")? + 0.5);
        let sun = Sun::at(
            &SunDay::new(&place, day),
            middle,
            outside_atmosphere(day),
            ELEVATION_M,
        );
        let (beam, diffuse) = (light(row, "dni_w_m2")?, light(row, "dhi_w_m2")?);
        Some(Self {
            day,
            sun,
            light: Light {
                global: diffuse + beam * sun.up.max(0.0),
                beam,
                diffuse,
            },
            air: Temperature::from_celsius(row.number("air_c")?),
            plane_w_per_m2: row.number("plane_w_m2")?,
            dc_w: row.number("dc_w")?,
        })
    }

    fn on_plane(&self, model: SkyModel) -> Irradiance {
        let plane = Plane::new(20.0, 180.0).expect("angles in range");
        plane.light(&self.sun, &self.light, ALBEDO, model).total()
    }

    fn add_to(&self, sums: &mut Sums) {
        let perez = self.on_plane(SkyModel::Perez);
        sums.plane += self.plane_w_per_m2;
        sums.dc += self.dc_w;
        sums.perez += perez.as_w_per_m2();
        sums.hay_davies += self.on_plane(SkyModel::HayDavies).as_w_per_m2();
        sums.our_dc += PANEL.power(perez, self.air).as_watts();
    }
}
