//! The panel of every other camera: free or among hills and trees, feeding a store of its own or,
//! where that can be charged, the pack.

use overwinter_model::harvest::{
    Canopy, ChargeLimit, Controller, Ground, Horizon, Leaves, Mount, Panel, Plane, Store,
    Surroundings,
};
use overwinter_model::installation::{MonthClearness, Sunlight};
use overwinter_model::season::Feeds;
use overwinter_model::{Energy, Power, Temperature, Time, Voltage};

use super::nth;

pub(super) fn feeds(rechargeable: bool, number: usize) -> Option<Feeds> {
    if number.is_multiple_of(2) {
        return None;
    }
    Some(if rechargeable {
        Feeds::Pack {
            lag: Time::from_hours(3.0),
        }
    } else {
        Feeds::Store(Store {
            capacity: Energy::from_watt_hours(nth(&[4.0, 11.1], number / 2)),
            charge_efficiency: 0.95,
            limit: ChargeLimit {
                coldest: Some(Temperature::from_celsius(0.0)),
                warmest: None,
                highest: Some(Power::from_watts(2.5)),
            },
            lag: Time::from_hours(2.0),
            self_discharge_per_month: 0.03,
            weak_below: nth(&[Some(Temperature::from_celsius(-6.0)), None], number / 2),
        })
    })
}

pub(super) fn sunlight(number: usize) -> Option<Sunlight> {
    (number % 2 == 1).then(|| Sunlight {
        mount: Mount {
            panel: Panel::rated(Power::from_watts(nth(&[0.3, 2.0, 6.0], number / 2))),
            plane: Plane::new(
                nth(&[60.0, 45.0, 90.0], number),
                nth(&[180.0, 151.0], number / 2),
            )
            .unwrap(),
            around: nth(&[open(), among_hills()], number / 2),
            controller: nth(
                &[
                    Controller::MaximumPower { efficiency: 0.9 },
                    Controller::Direct {
                        best: Voltage::from_volts(18.0),
                        diode: Voltage::from_volts(0.4),
                    },
                ],
                number / 2,
            ),
            charged: Voltage::from_volts(nth(&[12.6, 7.4], number)),
        },
        elevation_m: nth(&[120.0, 1450.0], number / 2),
        clearness: [
            0.31, 0.4, 0.44, 0.46, 0.47, 0.49, 0.5, 0.48, 0.45, 0.4, 0.33, 0.28,
        ]
        .map(|mean| MonthClearness { mean, sd: 0.19 }),
    })
}

fn open() -> Surroundings {
    Surroundings {
        kept_off_by_month: [Surroundings::DIRT; 12],
        ..Surroundings::open()
    }
}

/// Points all around, oaks overhead, snow till spring.
fn among_hills() -> Surroundings {
    let skyline: Vec<(f64, f64)> = (0..18)
        .map(|point| (20.0 * f64::from(point), f64::from(point * 5 % 13)))
        .collect();
    let leaves = Leaves::Deciduous {
        bare_cover: 0.25,
        out: 120,
        fall: 300,
    };
    Surroundings {
        horizon: Horizon::new(&skyline).unwrap(),
        canopy: Canopy::new(0.6, leaves).unwrap(),
        ground: Ground::with_snow([0.9, 0.9, 0.6, 0.1, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.2, 0.7]),
        kept_off_by_month: [
            0.2, 0.15, 0.05, 0.03, 0.03, 0.03, 0.03, 0.03, 0.03, 0.03, 0.05, 0.15,
        ],
    }
}
