//! Panel, store and load through a file's hours: `*_sizing.csv` and `*_sizing_variants.csv`.

use std::collections::HashMap;

use overwinter_model::harvest::{ChargeLimit, Panel, Store};
use overwinter_model::{Energy, Irradiance, Power, Temperature, Time};
use overwinter_tests::held::Held;
use overwinter_tests::tables::{Row, Table};

use super::{Sky, Year, climate_of, plane_of_latitude};

/// Hours short in a year: two per cent or five hours.
const SHARE: f64 = 0.02;
const LEAST_H: f64 = 250.0;

/// Light on the table's plane by the hour, by the sky's name.
type Lights = HashMap<String, Option<Vec<f64>>>;

pub(super) fn hold(held: &mut Held, table: &Table, year: &Year) {
    let climate = climate_of(table);
    let mut lights = Lights::new();
    for row in &table.rows {
        let id = [
            "panel_w",
            "store_wh",
            "load_w",
            "sky",
            "no_charge_when",
            "no_charge_below_0c",
        ]
        .map(|column| row.text(column));
        let id = format!("{climate} {}", id.join(" "));
        match (
            row.number("hours_short"),
            hours_short(row, year, &mut lights),
        ) {
            (Some(reference), Some(ours)) => {
                held.near(&id, "hours_short", (reference, ours), SHARE, LEAST_H);
            }
            _ => held
                .points
                .skip(&id, "sky or lock-out is not one that the program knows"),
        }
    }
}

/// Hours of the second of two equal years in which the load is not served in full.
fn hours_short(row: &Row, year: &Year, lights: &mut Lights) -> Option<f64> {
    let sky = match row.text("sky") {
        "" => "haydavies",
        named => named,
    };
    let lights = lights.entry(sky.to_owned()).or_insert_with(|| {
        let plane = plane_of_latitude(&year.place);
        Some(year.on_plane(&plane, Sky::named(sky)?))
    });
    let lights = lights.as_ref()?;
    let panel = Panel::rated(Power::from_watts(row.number("panel_w")?));
    let store = store(row)?;
    let load = Power::from_watts(row.number("load_w")?);
    let mut state = store.full(Temperature::from_celsius(year.hours.first()?.air_c));
    let mut short = 0.0;
    for counted in [false, true] {
        for (hour, light) in year.hours.iter().zip(lights) {
            let air = Temperature::from_celsius(hour.air_c);
            let power = panel.power(Irradiance::from_w_per_m2(*light), air);
            let step = store.step(&mut state, power, load, air, Time::from_hours(1.0));
            if counted && step.unmet > Energy::ZERO {
                short += 1.0;
            }
        }
    }
    Some(short)
}

fn store(row: &Row) -> Option<Store> {
    let below = |celsius| Some(Temperature::from_celsius(celsius));
    let lock_out = match row.text("no_charge_when") {
        "" => row.text("no_charge_below_0c"),
        named => named,
    };
    let (coldest, lag_h) = match lock_out {
        "none" | "0" => (None, 0.0),
        "air<0" | "1" => (below(0.0), 0.0),
        "air<-10" => (below(-10.0), 0.0),
        "pack6h<0" => (below(0.0), 6.0),
        _ => return None,
    };
    Some(Store {
        capacity: Energy::from_watt_hours(row.number("store_wh")?),
        charge_efficiency: 0.85,
        limit: ChargeLimit {
            coldest,
            warmest: None,
            highest: None,
        },
        lag: Time::from_hours(lag_h),
        self_discharge_per_month: 0.0,
        weak_below: None,
    })
}
