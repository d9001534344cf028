//! Panel, store and load under sampled days, from a climate's normals alone, against its own hours.
//!
//! A typical year is one year: what falls in its frosts and dull weeks is chance. So hours short are held
//! to a factor, and the panel that it needs to within one step of those that sampled years need which are
//! a standard deviation better or worse than their mean: where frost locks the light out, hours hardly
//! fall with the panel, and one year needs a far bigger one than another.

use overwinter_line::weather::WeatherFile;
use overwinter_model::harvest::{
    ChargeLimit, Controller, Mount, Panel, PanelDay, SkyDay, Store, Surroundings,
};
use overwinter_model::paths::{AirChances, Drawn, MonthChances, SampledAir};
use overwinter_model::random::{AnomalyLaw, Key};
use overwinter_model::{AirOfDay, Energy, Power, Temperature, Time, Voltage, Weather};
use overwinter_tests::held::Held;

use super::{Year, days, plane_of_latitude};

/// Panels to choose from, watts.
const PANELS_W: [f64; 7] = [1.0, 1.5, 2.0, 3.0, 5.0, 7.0, 10.0];
const STORES_WH: [f64; 3] = [6.0, 12.0, 36.0];
const LOADS_W: [f64; 3] = [0.05, 0.15, 0.3];

/// Not charged below so many degrees, with the pack so many hours behind the air.
const LOCK_OUTS: [(&str, Option<f64>, f64); 4] = [
    ("none", None, 0.0),
    ("air<0", Some(0.0), 0.0),
    ("air<-10", Some(-10.0), 0.0),
    ("pack6h<0", Some(0.0), 6.0),
];

/// Served for so much of the year.
const WANTED: f64 = 0.95;

/// Sampled years from the same normals.
const GROUPS: u32 = 2;
const LANES: usize = 16;

/// Hours short are compared with so many added to both: a handful more or less says nothing.
const LEAST_H: f64 = 100.0;

/// What is asked of the mean of sampled years: within this factor of the file's one year.
const FACTOR: f64 = 3.0;

/// A year by the hour: what a panel of a watt brings, and the air.
struct Course {
    of_a_watt: Vec<Power>,
    air: Vec<Temperature>,
}

/// Another folder's climates are compared and not held: its one year may be an odd one.
pub(super) fn hold(held: &mut Held, climate: &str, year: &Year, file: &WeatherFile) {
    let other = std::env::var_os(crate::VARIABLE).is_some();
    let mut within = |id: &str, quantity: &str, reference: f64, ours: f64, tolerance: f64| {
        let tolerance = if other { f64::INFINITY } else { tolerance };
        held.within(id, quantity, reference, ours, tolerance);
    };
    let replayed = replayed(year);
    let sampled = sampled(year, file);
    for (name, coldest_c, lag_h) in LOCK_OUTS {
        for store_wh in STORES_WH {
            for load_w in LOADS_W {
                let store = store(store_wh, coldest_c, lag_h);
                let short = |course: &Course, panel_w: f64| {
                    hours_short(course, &store, panel_w, Power::from_watts(load_w))
                };
                let replayed = PANELS_W.map(|panel_w| short(&replayed, panel_w));
                let sampled = PANELS_W.map(|panel_w| {
                    MeanAndSd::of(sampled.iter().map(|course| short(course, panel_w)))
                });
                let id = format!("{climate} {store_wh} Wh {load_w} W {name}");
                for ((panel_w, replayed), sampled) in PANELS_W.iter().zip(replayed).zip(sampled) {
                    let id = format!("{id} {panel_w} W");
                    let ratio = ((sampled.mean + LEAST_H) / (replayed + LEAST_H)).ln();
                    within(&id, "ln_hours_short_sampled", 0.0, ratio, FACTOR.ln());
                }
                let least = step_needed(&sampled.map(|short| short.mean - short.sd));
                let most = step_needed(&sampled.map(|short| short.mean + short.sd));
                let replayed = step_needed(&replayed);
                let nearest = replayed.clamp(least, most);
                within(&id, "panel_step_sampled", replayed, nearest, 1.0);
            }
        }
    }
}

/// Mean and standard deviation of hours short in sampled years.
#[derive(Clone, Copy)]
struct MeanAndSd {
    mean: f64,
    sd: f64,
}

impl MeanAndSd {
    fn of(years: impl Iterator<Item = f64>) -> Self {
        let years: Vec<f64> = years.collect();
        let n = years.len() as f64;
        let mean = years.iter().sum::<f64>() / n;
        let squares = years.iter().map(|year| (year - mean) * (year - mean));
        let sd = (squares.sum::<f64>() / (n - 1.0)).sqrt();
        Self { mean, sd }
    }
}

/// Which of the panels is the first to do; one beyond the last if none does.
fn step_needed(hours_short: &[f64; 7]) -> f64 {
    let allowed = (1.0 - WANTED) * 8760.0;
    let step = hours_short.iter().position(|short| *short <= allowed);
    step.unwrap_or(PANELS_W.len()) as f64
}

fn store(store_wh: f64, coldest_c: Option<f64>, lag_h: f64) -> Store {
    Store {
        capacity: Energy::from_watt_hours(store_wh),
        charge_efficiency: 0.85,
        limit: ChargeLimit {
            coldest: coldest_c.map(Temperature::from_celsius),
            warmest: None,
            highest: None,
        },
        lag: Time::from_hours(lag_h),
        self_discharge_per_month: 0.0,
        weak_below: None,
    }
}

/// Hours of the second of two equal years in which the load is not served in full.
fn hours_short(course: &Course, store: &Store, panel_w: f64, load: Power) -> f64 {
    let hour = Time::from_hours(1.0);
    let mut state = store.full(course.air[0]);
    let mut short = 0.0;
    for counted in [false, true] {
        for (power, air) in course.of_a_watt.iter().zip(&course.air) {
            let step = store.step(&mut state, *power * panel_w, load, *air, hour);
            if counted && step.unmet > Energy::ZERO {
                short += 1.0;
            }
        }
    }
    short
}

/// The tables' panel: a tenth lost to dirt and wiring, nothing in a controller.
fn mount(year: &Year) -> Mount {
    Mount {
        panel: Panel::rated(Power::from_watts(1.0)),
        plane: plane_of_latitude(&year.place),
        around: Surroundings::open(),
        controller: Controller::MaximumPower { efficiency: 1.0 },
        charged: Voltage::ZERO,
    }
}

/// The file's own hours.
fn replayed(year: &Year) -> Course {
    let mount = mount(year);
    let air = year
        .hours
        .iter()
        .map(|hour| Temperature::from_celsius(hour.air_c));
    let air: Vec<Temperature> = air.collect();
    let mut of_a_watt = Vec::with_capacity(air.len());
    for ((day, hours), air) in days().zip(year.hours.chunks(24)).zip(air.chunks(24)) {
        let sky = SkyDay::new(&year.place, day, year.elevation_m, year.light_offset);
        let lights = std::array::from_fn(|hour| hours[hour].light());
        let air = std::array::from_fn(|hour| air[hour]);
        of_a_watt.extend(
            mount
                .replayed_day(&sky, day, &lights, &air)
                .at_clearness(0.0),
        );
    }
    Course { of_a_watt, air }
}

/// Years of days drawn from the file's normals and the spread of its days.
fn sampled(year: &Year, file: &WeatherFile) -> Vec<Course> {
    let normals = file
        .normals()
        .to_model()
        .unwrap_or_else(|why| panic!("{why}"));
    let spread = file.spread().unwrap_or_else(|why| panic!("{why}"));
    let chances = AirChances {
        months: spread.months().map(|month| MonthChances {
            law: AnomalyLaw::new(
                [month.temperature_lag1, month.clearness_lag1],
                month.correlation,
            )
            .unwrap_or_else(|why| panic!("{why}")),
            temperature_sd_k: month.temperature_sd_k,
            range_sd_k: month.range_sd_k,
            clearness_sd: month.clearness_sd,
        }),
        // The file is one year, and its normals are that year's.
        winters_sd_k: 0.0,
    };
    let weather = Weather::Normals(&normals);
    let mount = mount(year);
    let expected: Vec<(AirOfDay, PanelDay, f64)> = days()
        .map(|day| {
            let air = weather.of_day(&year.place, day);
            let sky = SkyDay::new(&year.place, day, year.elevation_m, Time::ZERO);
            let panel = mount.day(&sky, day, &air.hours);
            (air, panel, spread.month(day.month_index()).clearness_mean)
        })
        .collect();
    let groups = (0..GROUPS).flat_map(|group| {
        let drawn = Drawn {
            key: Key(20_261_125),
            paths: std::array::from_fn::<_, LANES, _>(|lane| group * LANES as u32 + lane as u32),
        };
        let mut sampled = SampledAir::new(drawn, &chances);
        let days: Vec<_> = days()
            .map(|day| sampled.next_day(day.month_index()))
            .collect();
        (0..LANES).map(move |lane| {
            days.iter()
                .map(|day| (day.warmer_k.0[lane], day.clearer.0[lane]))
                .collect::<Vec<_>>()
        })
    });
    groups
        .map(|days| {
            let mut course = Course {
                of_a_watt: Vec::with_capacity(8760),
                air: Vec::with_capacity(8760),
            };
            for ((air, panel, clearness), (warmer_k, clearer)) in expected.iter().zip(days) {
                course.air.extend(air.warmer(warmer_k).hours);
                course
                    .of_a_watt
                    .extend(panel.at_clearness(clearness + clearer));
            }
            course
        })
        .collect()
}
