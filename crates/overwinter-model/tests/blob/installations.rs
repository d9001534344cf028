//! Installations at random, and one to look at closely.

use overwinter_model::blob::LONGEST_SEASON_DAYS;
use overwinter_model::draw::{Card, UploadMode};
use overwinter_model::harvest::{
    Canopy, ChargeLimit, Controller, Ground, Horizon, Leaves, Mount, Panel, Plane, Store,
    Surroundings,
};
use overwinter_model::installation::{Air, Installation, MonthClearness, Sunlight};
use overwinter_model::season::Feeds;
use overwinter_model::{
    Activity, Counts, Day, Energy, MonthNormals, Normals, Pattern, Place, Power, Temperature, Time,
    Voltage,
};
use proptest::prelude::*;

use crate::cases::{Case, case};

fn air() -> impl Strategy<Value = Air> {
    let month = (-60.0..40.0_f64, 0.0..15.0_f64, 0.0..15.0_f64).prop_map(|(mean, below, above)| {
        MonthNormals {
            mean: Temperature::from_celsius(mean),
            daily_min: Temperature::from_celsius(mean - below),
            daily_max: Temperature::from_celsius(mean + above),
        }
    });
    prop_oneof![
        (-60.0..40.0_f64).prop_map(|air| Air::Constant(Temperature::from_celsius(air))),
        prop::array::uniform12(month)
            .prop_map(|months| Air::Normals(Normals::new(months).unwrap())),
    ]
}

fn pattern() -> impl Strategy<Value = Pattern> {
    prop_oneof![
        Just(Pattern::Even),
        Just(Pattern::Day),
        Just(Pattern::Night),
        Just(Pattern::Twilight),
        prop::array::uniform24(0.01..9.0_f64).prop_map(Pattern::ByHour),
    ]
}

fn share() -> impl Strategy<Value = f64> {
    prop_oneof![Just(0.0), Just(1.0), 0.0..=1.0_f64]
}

fn controller() -> impl Strategy<Value = Controller> {
    prop_oneof![
        share().prop_map(|efficiency| Controller::MaximumPower { efficiency }),
        (1.0..40.0_f64, 0.0..1.0_f64).prop_map(|(best, diode)| Controller::Direct {
            best: Voltage::from_volts(best),
            diode: Voltage::from_volts(diode),
        }),
    ]
}

prop_compose! {
    fn surroundings()(
        heights in prop::collection::vec(0.0..90.0_f64, 0..=36),
        cover in share(),
        bare in prop::option::of((share(), 1..=366_u16, 1..=366_u16)),
        snow in prop::array::uniform12(share()),
        kept_off_by_month in prop::array::uniform12(share()),
    ) -> Surroundings {
        let points: Vec<_> = (0_u32..).map(|at| f64::from(at) * 9.7).zip(heights).collect();
        let leaves = bare.map_or(Leaves::Evergreen, |(bare, out, fall)| Leaves::Deciduous {
            bare_cover: bare * cover,
            out,
            fall,
        });
        Surroundings {
            horizon: Horizon::new(&points).unwrap(),
            canopy: Canopy::new(cover, leaves).unwrap(),
            ground: Ground::with_snow(snow),
            kept_off_by_month,
        }
    }
}

prop_compose! {
    fn sunlight()(
        rated_w in 0.1..100.0_f64,
        (tilt, azimuth) in (0.0..=90.0_f64, 0.0..=360.0_f64),
        around in surroundings(),
        controller in controller(),
        volts in 1.0..24.0_f64,
        elevation_m in -400.0..5000.0_f64,
        clearness in prop::array::uniform12((share(), 0.0..=0.5_f64)),
    ) -> Sunlight {
        Sunlight {
            mount: Mount {
                panel: Panel::rated(Power::from_watts(rated_w)),
                plane: Plane::new(tilt, azimuth).unwrap(),
                around,
                controller,
                charged: Voltage::from_volts(volts),
            },
            elevation_m,
            clearness: clearness.map(|(mean, sd)| MonthClearness { mean, sd }),
        }
    }
}

prop_compose! {
    fn store()(
        wh in 0.1..200.0_f64,
        (charge_efficiency, self_discharge_per_month) in (share(), share()),
        coldest in prop::option::of(-20.0..10.0_f64),
        highest_w in prop::option::of(0.1..50.0_f64),
        lag_h in 0.0..48.0_f64,
        weak_c in prop::option::of(-60.0..60.0_f64),
    ) -> Feeds {
        Feeds::Store(Store {
            capacity: Energy::from_watt_hours(wh),
            charge_efficiency,
            limit: ChargeLimit {
                coldest: coldest.map(Temperature::from_celsius),
                warmest: None,
                highest: highest_w.map(Power::from_watts),
            },
            lag: Time::from_hours(lag_h),
            self_discharge_per_month,
            weak_below: weak_c.map(Temperature::from_celsius),
        })
    }
}

fn feeds() -> impl Strategy<Value = Option<Feeds>> {
    let pack = (0.0..48.0_f64).prop_map(|lag_h| Feeds::Pack {
        lag: Time::from_hours(lag_h),
    });
    prop::option::of(prop_oneof![store(), pack])
}

prop_compose! {
    fn activity()(
        rates in prop::array::uniform12(0.0..60.0_f64),
        pattern in pattern(),
        false_share in 0.0..=1.0_f64,
        dispersion in 0.1..1000.0_f64,
        rate_sd_ln in 0.0..3.0_f64,
    ) -> Activity {
        let counts = Counts { false_share, dispersion, rate_sd_ln };
        Activity::new(rates, pattern).unwrap().with_counts(counts).unwrap()
    }
}

prop_compose! {
    pub(crate) fn installation()(
        case in case(),
        stored_days in prop_oneof![Just(0.0), 0.0..4000.0_f64],
        card in prop::option::of((0.1..1e5_f64, 0.0..50.0_f64)),
        hour in prop::option::of(0..24_u8),
        (latitude, longitude) in (-90.0..90.0_f64, -180.0..180.0_f64),
        utc_offset in -12.0..=14.0_f64,
        air in air(),
        sunlight in prop::option::of(sunlight()),
        feeds in feeds(),
        activity in activity(),
        flash_below_sun_deg in -18.0..30.0_f64,
        first_day in -18_262..36_889_i32,
        days in 1..=LONGEST_SEASON_DAYS,
    ) -> Installation {
        let mut scenario = case.scenario(1.0);
        let at = scenario.pack.at(Temperature::REFERENCE);
        scenario.start = at.stored(&scenario.start, Time::from_days(stored_days));
        scenario.feeds = feeds;
        scenario.draw.card = card.map(|(capacity_mb, written)| Card {
            capacity_mb,
            day_trigger_mb: written,
            night_trigger_mb: written / 2.0,
        });
        if let Some(upload) = &mut scenario.draw.upload {
            upload.mode = hour.map_or(UploadMode::Each, |hour| UploadMode::Daily { hour });
        }
        Installation {
            scenario,
            place: Place::new(latitude, longitude, utc_offset).unwrap(),
            air,
            sunlight,
            activity,
            flash_below_sun_deg,
            first_day: Day::from_days_since_2000(first_day),
            days,
        }
    }
}

/// A camera with everything that a camera can have.
pub(crate) fn sample() -> Installation {
    let case = Case {
        cell: 0,
        series: 8,
        parallel: 1,
        standby_mw: 1.2,
        flash_w: 4.5,
        shot_w: 0.9,
        video_s: 10.0,
        triggers_per_hour: 0.5,
        cut_off_share: 0.6,
        mean_c: -4.0,
        swing_c: 6.0,
        uploads: true,
    };
    let mut scenario = case.scenario(1.0);
    scenario.draw.card = Some(Card {
        capacity_mb: 32_000.0,
        day_trigger_mb: 2.5,
        night_trigger_mb: 1.2,
    });
    scenario.feeds = Some(Feeds::Store(Store {
        capacity: Energy::from_watt_hours(12.5),
        charge_efficiency: 0.9,
        limit: ChargeLimit {
            coldest: Some(Temperature::from_celsius(0.0)),
            warmest: None,
            highest: Some(Power::from_watts(4.0)),
        },
        lag: Time::from_hours(3.0),
        self_discharge_per_month: 0.02,
        weak_below: Some(Temperature::from_celsius(-8.5)),
    }));
    let months = [
        -12.3, -11.0, -5.8, 0.4, 7.1, 12.6, 15.2, 13.1, 7.8, 2.2, -4.9, -10.4,
    ];
    let normals = months.map(|mean| MonthNormals {
        mean: Temperature::from_celsius(mean),
        daily_min: Temperature::from_celsius(mean - 4.7),
        daily_max: Temperature::from_celsius(mean + 4.2),
    });
    Installation {
        scenario,
        place: Place::new(61.2, 14.6, 1.0).unwrap(),
        air: Air::Normals(Normals::new(normals).unwrap()),
        sunlight: Some(sample_sunlight()),
        activity: Activity::new([8.5; 12], Pattern::Twilight).unwrap(),
        flash_below_sun_deg: -0.5,
        first_day: Day::from_days_since_2000(9801),
        days: 166,
    }
}

/// A panel under a hill and trees.
fn sample_sunlight() -> Sunlight {
    let leaves = Leaves::Deciduous {
        bare_cover: 0.2,
        out: 130,
        fall: 270,
    };
    Sunlight {
        mount: Mount {
            panel: Panel::rated(Power::from_watts(3.0)),
            plane: Plane::new(60.0, 180.0).unwrap(),
            around: Surroundings {
                horizon: Horizon::new(&[(90.0, 4.0), (150.0, 11.5), (200.0, 6.0)]).unwrap(),
                canopy: Canopy::new(0.5, leaves).unwrap(),
                ground: Ground::with_snow([0.8; 12]),
                kept_off_by_month: [0.03; 12],
            },
            controller: Controller::Direct {
                best: Voltage::from_volts(6.0),
                diode: Voltage::from_volts(0.4),
            },
            charged: Voltage::from_volts(3.7),
        },
        elevation_m: 310.0,
        clearness: [
            0.38, 0.45, 0.51, 0.52, 0.5, 0.48, 0.47, 0.46, 0.43, 0.37, 0.33, 0.31,
        ]
        .map(|mean| MonthClearness { mean, sd: 0.17 }),
    }
}
