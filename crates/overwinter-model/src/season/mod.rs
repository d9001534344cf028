//! The time loop: hour after hour until the camera is dead or the season over.

mod camera;
mod ends;
mod ledger;
mod mode;
mod notes;
mod plan;
mod recharge;
mod step;
mod store;
mod store_cells;
mod task;

pub use crate::harvest::FromPanel;
pub use camera::{Camera, CameraState};
pub use ends::{Ending, Ends};
pub use ledger::Ledger;
pub use mode::{Found, Mode, Recovery};
pub use store_cells::StoreCells;
pub use task::{Limits, Task};

use crate::cell::Asked;
use crate::draw::Draw;
use crate::harvest::Store;
use crate::pack::{Pack, PackState};
use crate::units::{Power, Temperature, Time, Voltage};
use crate::{AirOfDay, HourRate};

/// One hour of the season, as it meets the camera.
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
pub struct Hour {
    /// Hour of the day in local standard time, 0 to 23.
    pub of_day: u8,
    /// Temperature of the air, and so of the pack.
    pub air: Temperature,
    /// Temperature at which the voltage of this hour's events is asked: as cold as the hour may be
    /// on an ordinary day, where `air` is a mean over many days; else the same as `air`.
    pub coldest: Temperature,
    /// Triggers in this hour with enough daylight.
    pub day_triggers: f64,
    /// Triggers in this hour that need the flash.
    pub night_triggers: f64,
    /// Share of the hour that needs the flash, 0 to 1.
    pub dark_share: f64,
    /// What a panel brings to what it [`Feeds`], behind its controller; zero without one.
    pub panel: Power,
}

/// The hours of one day, out of its traffic, its air and what a panel brings in each.
#[must_use]
pub fn hours_of_day(rates: &[HourRate; 24], air: &AirOfDay, panel: &[Power; 24]) -> [Hour; 24] {
    let mut hours = [Hour::NOTHING; 24];
    let of_hours = rates.iter().zip(&air.hours).zip(panel);
    for ((of_day, hour), ((rate, hour_air), panel)) in (0..).zip(&mut hours).zip(of_hours) {
        *hour = Hour::new(of_day, *hour_air, air.coldest(*hour_air), rate, *panel);
    }
    hours
}

impl Hour {
    pub(crate) fn new(
        of_day: u8,
        air: Temperature,
        coldest: Temperature,
        rate: &HourRate,
        panel: Power,
    ) -> Self {
        Self {
            of_day,
            air,
            coldest,
            day_triggers: rate.per_hour * (1.0 - rate.night_share),
            night_triggers: rate.per_hour * rate.night_share,
            dark_share: rate.dark_share,
            panel,
        }
    }

    /// No animals, no light, at the reference temperature.
    const NOTHING: Self = Self {
        of_day: 0,
        air: Temperature::REFERENCE,
        coldest: Temperature::REFERENCE,
        day_triggers: 0.0,
        night_triggers: 0.0,
        dark_share: 0.0,
        panel: Power::ZERO,
    };
}

/// What a panel charges, and so how it is joined to the camera.
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
pub enum Feeds {
    /// A store of its own, full at the start, which runs the camera through a converter as long as
    /// there is anything in it; the pack takes over behind a diode when it is empty.
    Store(Store),
    /// The pack itself, which must be rechargeable: a primary pack takes nothing.
    Pack {
        /// Time constant with which the pack's temperature follows the air's, where it decides
        /// whether the pack may be charged; zero for at once.
        lag: Time,
    },
}

/// A camera with its cells, ready to run.
#[derive(Clone, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
pub struct Scenario {
    /// The cells.
    pub pack: Pack,
    /// What they hold at the start.
    pub start: PackState,
    /// What the camera draws.
    pub draw: Draw,
    /// What its panel charges, if it has one.
    pub feeds: Option<Feeds>,
}

/// What comes to an end.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
#[non_exhaustive]
pub enum Cause {
    /// The voltage under the flash was too low, or the pack could not carry it at all.
    VoltageUnderFlash,
    /// The voltage under an upload or a report was too low.
    VoltageUnderUpload,
    /// The voltage under a picture without flash was too low.
    VoltageUnderPicture,
    /// The voltage was too low even asleep.
    VoltageAsleep,
    /// The weakest cell had nothing left within reach.
    WeakestCellEmpty,
    /// The memory card was full.
    CardFull,
    /// A panel's store had nothing left.
    StoreEmpty,
}

impl Cause {
    /// Its name where a program reads it: `voltage-under-flash`.
    #[must_use]
    pub const fn key(self) -> &'static str {
        match self {
            Self::VoltageUnderFlash => "voltage-under-flash",
            Self::VoltageUnderUpload => "voltage-under-upload",
            Self::VoltageUnderPicture => "voltage-under-picture",
            Self::VoltageAsleep => "voltage-asleep",
            Self::WeakestCellEmpty => "weakest-cell-empty",
            Self::CardFull => "card-full",
            Self::StoreEmpty => "store-empty",
        }
    }
}

/// When and how something ended.
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
pub struct End {
    /// Time since the season began.
    pub after: Time,
    /// Why.
    pub cause: Cause,
    /// Temperature then.
    pub air: Temperature,
    /// The voltage that decided, of the pack; `None` if the load could not be carried at any.
    pub voltage: Option<Voltage>,
    /// Share of the pack's charge still in it then.
    pub charge_left: f64,
}

/// What became of a camera.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
pub struct Outcome {
    /// What came to an end; `None` of what outlived the season.
    pub ends: Ends<Option<End>>,
    /// How long it was followed: to its death or to the end of the season.
    pub followed: Time,
    /// Triggers answered by night under a flash that failed.
    pub dark_triggers: f64,
    /// Triggers answered in all.
    pub triggers: f64,
    /// Triggers of which the pictures were kept: answered, with a flash that lit where it was
    /// needed, and with room on the card.
    pub kept: f64,
    /// The first time that the weakest cell was driven under its floor.
    pub under_floor: Option<Time>,
    /// What was asked of each cell: for the doubts of a run that no published point reaches.
    pub asked: Option<Asked>,
    /// Share of the charge left at the end.
    pub charge_left: f64,
    /// Where the energy went.
    pub ledger: Ledger,
}

/// What an observer sees of each step.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Seen {
    /// Time since the season began, at the end of the step.
    pub after: Time,
    /// Share of the pack's charge left.
    pub charge_left: f64,
    /// Share of a store's capacity that is in it; `None` without a store.
    pub store_left: Option<f64>,
    /// Voltage asleep.
    pub asleep: Voltage,
    /// Lowest voltage under any event of the step; `None` if one could not be carried.
    pub lowest: Option<Voltage>,
}

/// Runs a scenario through `hours`, with `steps_per_hour` steps in each (1 is enough for days to
/// 0.5 %; a heavy load is divided further by itself).
///
/// The hours are the expected path: triggers are spread as their expectation, so that an event
/// which comes once in ten hours draws a tenth of its charge in each. Its *voltage* is asked in
/// every hour in which it may come, at that hour's [`Hour::coldest`], since the one picture that
/// matters may come in the coldest.
pub fn run(
    scenario: &Scenario,
    hours: impl IntoIterator<Item = Hour>,
    steps_per_hour: u32,
    mut observe: impl FnMut(&Seen),
) -> Outcome {
    let mut camera = Camera::new(scenario);
    for hour in hours {
        if camera.hour(&hour, steps_per_hour, &mut observe).is_break() {
            break;
        }
    }
    camera.finish()
}
