//! The values of blobs and saved gauges, each with the range that it can be run with.
//!
//! The ranges are wide: they keep the model's arithmetic finite and its loops short, and leave what is
//! merely unusual alone. Of the types that have a constructor the values are not here: it checks them.

use core::fmt;
use core::ops::RangeInclusive;

use crate::Day;
use crate::cell::accepted::{self, CAPACITY_MAH, CELSIUS, DAYS, IN_SERIES, MILLIAMPERES};
use crate::units::{Charge, Current, Temperature, Time};

/// The longest season, days.
pub const LONGEST_SEASON_DAYS: u16 = 1200;

/// First and last day on which a season may begin: where the sun's position is held against its
/// reference, and a little beyond. 1950-01-01 and 2100-12-31.
const FIRST_DAYS: (Day, Day) = (
    Day::from_days_since_2000(-18_262),
    Day::from_days_since_2000(36_889),
);

/// From the lowest value that is taken to the highest.
#[derive(Clone, Copy)]
pub(crate) struct Range {
    pub(crate) lowest: f64,
    pub(crate) highest: f64,
}

impl Range {
    pub(crate) const fn between(lowest: f64, highest: f64) -> Self {
        Self { lowest, highest }
    }

    const fn of(range: &RangeInclusive<f64>) -> Self {
        Self::between(*range.start(), *range.end())
    }
}

/// Defines every quantity with its name, its unit and its range.
macro_rules! quantities {
    ($($(#[$doc:meta])* $name:ident $text:literal $range:expr;)*) => {
        /// A value of a blob or of a gauge, with its unit. Shown, it is its name; whoever has no room
        /// for a hundred names shows its number, which `BLOB.md` lists.
        #[derive(Clone, Copy, Debug, PartialEq, Eq)]
        #[non_exhaustive]
        pub enum Quantity {
            $(#[doc = $text] $(#[$doc])* $name,)*
        }

        impl Quantity {
            /// Every one, by its number.
            pub const ALL: &[Self] = &[$(Self::$name,)*];

            /// Its number in the list of `BLOB.md`.
            #[must_use]
            pub const fn number(self) -> u8 {
                self as u8
            }

            /// Its name and its unit.
            #[must_use]
            pub const fn name(self) -> &'static str {
                match self {
                    $(Self::$name => $text,)*
                }
            }

            /// The range at its widest: where it depends on another value, that one gives the highest.
            pub(crate) const fn range(self) -> &'static Range {
                match self {
                    $(Self::$name => const { &Range::of(&($range)) },)*
                }
            }
        }
    };
}

impl fmt::Display for Quantity {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.name())
    }
}

impl Quantity {
    /// Whether a value, which may be no number, is in the range.
    #[cfg(feature = "gauge")]
    pub(crate) fn check(self, value: f64) -> Result<(), OutOfRange> {
        self.within(value, self.range())
    }

    /// The same where other values give the range.
    pub(crate) fn within(self, value: f64, range: &Range) -> Result<(), OutOfRange> {
        let Range { lowest, highest } = *range;
        if (lowest..=highest).contains(&value) {
            return Ok(());
        }
        Err(OutOfRange {
            what: self,
            value,
            lowest,
            highest,
        })
    }
}

/// A value that a device cannot run with.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct OutOfRange {
    /// Which.
    pub what: Quantity,
    /// The value.
    pub value: f64,
    /// The lowest that is taken.
    pub lowest: f64,
    /// The highest that is taken.
    pub highest: f64,
}

impl fmt::Display for OutOfRange {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Self {
            what,
            value,
            lowest,
            highest,
        } = self;
        write!(f, "{what} is {value}, not between {lowest} and {highest}")
    }
}

impl core::error::Error for OutOfRange {}

quantities! {
    CellsInACase "cells in a case" *IN_SERIES.start() as f64..=*IN_SERIES.end() as f64;
    Capacity "capacity (C)" coulombs(*CAPACITY_MAH.start())..=MOST_C;
    /// No higher than the one before.
    OpenCircuit "open-circuit voltage (V)" accepted::VOLTS;
    /// No higher than a fresh cell.
    Floor "floor (V)" accepted::VOLTS;
    OpenCircuitPerK "open-circuit V/K" accepted::VOLTS_PER_K;
    Resistance "resistance (ohm)" accepted::OHMS;
    ResistanceGrowth "growth of resistance" accepted::GROWTH;
    LateGrowth "late growth of resistance" accepted::GROWTH;
    Activation "activation (K)" accepted::ACTIVATION_K;
    Overpotential "overpotential (V)" accepted::OVERPOTENTIAL;
    HalfAt "current at half of the overpotential (A)" HALF_AT_A;
    BranchResistance "resistance of a branch (ohm)" accepted::BRANCH_OHMS;
    BranchTime "time constant of a branch (s)" accepted::SECONDS;
    AvailableShare "available share" accepted::SHARE;
    LevellingRate "levelling rate (1/s)" accepted::RATE_PER_S;
    Loss "loss (1/a)" accepted::LOSS;
    EarlyLoss "early loss" accepted::LOSS;
    EarlyTime "early time (s)" days(*DAYS.start())..=days(*DAYS.end());
    GrowthInStorage "growth of resistance (1/a)" accepted::LOSS;
    Spread "spread" accepted::SPREAD;
    MakeSpread "spread of makes" accepted::SPREAD;
    MakeCorrelation "correlation of makes" accepted::CORRELATION;
    MakeVoltage "spread of makes (V)" accepted::MAKE_VOLTS;
    BeyondPoints "spread beyond the points" accepted::UNCERTAINTY;
    /// It must not be charged.
    PrimaryCharging "charging current (A) of a primary cell" 0.0..=0.0;
    ChargeEfficiency "charge efficiency" accepted::EFFICIENCY;
    ChargingLimit "charging limit (V)" accepted::VOLTS;
    ChargingLimitPerK "charging limit (V/K)" accepted::VOLTS_PER_K;
    ChargingCurrent "charging current (A)" CHARGING_A;
    /// The time loop divides what charging moves in an hour in four-hundredths.
    ChargingRate "charging current (capacities an hour)" 0.0..=100.0;
    Warmest "warmest (K)" KELVIN;
    /// No warmer than the warmest.
    Coldest "coldest (K)" KELVIN;
    TestedCurrent "tested current (A)" TESTED_A;
    TestedInFrost "tested current in frost (A)" TESTED_A;
    /// No more than goes in, to rounding.
    Available "available charge (C)" HELD_C;
    /// No more than goes in, to rounding.
    Bound "bound charge (C)" HELD_C;
    Polarisation "polarisation (V)" -10.0..=10.0;
    /// A hundred years at most.
    Age "age (s)" 0.0..=days(100.0 * 365.25);

    Standby "standby (W)" 0.0..=1e3;
    ByTheClock "pictures by the clock (1/d)" PER_DAY;
    Quiet "quiet time (s)" SPAN_S;
    BurstLength "length of a burst (s)" SPAN_S;
    BurstPower "power of a burst (W)" BURST_W;
    LightPower "power of the light (W)" BURST_W;
    UploadHour "hour of the upload" 0.0..=23.0;
    PicturesSent "pictures sent by a trigger" 0.0..=1e4;
    LowestForUploads "lowest for uploads (V)" DEVICE_V;
    Reports "reports (1/d)" PER_DAY;
    LowestForReports "lowest for reports (V)" DEVICE_V;
    CardRoom "room on the card (MB)" 1e-3..=1e9;
    Written "written by a trigger (MB)" 0.0..=1e9;
    CutOff "cut-off (V)" DEVICE_V;
    LowestForFlash "lowest for the flash (V)" DEVICE_V;

    StoreCapacity "capacity of the store (J)" 1.0..=1e9;
    StoreEfficiency "charge efficiency of the store" SHARE;
    StoreColdest "coldest of the store (K)" KELVIN;
    StoreWarmest "warmest of the store (K)" KELVIN;
    StoreCharging "charging of the store (W)" BURST_W;
    StoreLag "lag of the store (s)" SPAN_S;
    StoreLoss "self-discharge of the store (1/month)" SHARE;
    StoreWeak "weak below, of the store (K)" KELVIN;
    PackLag "lag of the pack (s)" SPAN_S;

    Air "temperature (°C)" -90.0..=60.0;
    PanelPower "panel (W)" 0.0..=1e4;
    PanelPerK "panel (1/K)" -0.02..=0.02;
    PanelHeating "heating of the panel (K m²/W)" 0.0..=1.0;
    PanelLosses "losses of the panel" SHARE;
    Albedo "albedo" SHARE;
    SnowAlbedo "albedo of snow" SHARE;
    Snow "share of a month with snow" SHARE;
    KeptOff "share kept off by dirt and snow" SHARE;
    ControllerEfficiency "efficiency of the controller" SHARE;
    BestVoltage "panel's best voltage (V)" 0.1..=200.0;
    Diode "voltage of the diode (V)" 0.0..=5.0;
    Charged "voltage charged (V)" 0.1..=100.0;
    Elevation "height above the sea (m)" -500.0..=9000.0;
    Clearness "mean clearness" SHARE;
    ClearnessSpread "spread of clearness" 0.0..=0.5;
    Triggers "triggers (1/d)" PER_DAY;
    FlashSun "sun under which the flash is used (°)" -90.0..=90.0;
    FirstDay "first day, counted from 2000-01-01" FIRST_DAYS.0.days_since_2000() as f64
        ..=FIRST_DAYS.1.days_since_2000() as f64;
    Days "days of the season" 1.0..=LONGEST_SEASON_DAYS as f64;

    /// What a thermometer in a camera may show.
    MeasuredAir "temperature (°C)" -90.0..=100.0;
    Load "load (W)" 0.0..=1e3;
    /// From a twentieth of the pack's own to twice that.
    Voltage "voltage (V)" 0.0..=1e4;
    SavedHour "hour" 0.0..=LONGEST_SEASON_DAYS as f64 * 24.0;
    SavedAvailable "available charge (C)" HELD_ON_THE_WAY_C;
    SavedBound "bound charge (C)" HELD_ON_THE_WAY_C;
    /// Bursts that come more often than an hour has room for leave more than any cell has.
    SavedPolarisation "polarisation (V)" -1e12..=1e12;
    SavedAge "age (s)" 0.0..=days(1e9);
    Waiting "waiting pictures" 0.0..=1e12;
    OnTheCard "on the card (MB)" 0.0..=1e18;
    /// No more than it holds.
    InTheStore "in the store (J)" 0.0..=1e9;
    SavedStore "store (K)" KELVIN_ON_THE_WAY;
    SavedPack "pack (K)" KELVIN_ON_THE_WAY;
    /// That of its hour.
    SavedTime "time since the season began (s)" 0.0..=days(LONGEST_SEASON_DAYS as f64);
    DepthSpread "deviation of the depth" 1e-4..=1.0;
    News "news" 1e-5..=1.0;
}

/// What happens by the clock, at most every second.
const PER_DAY: RangeInclusive<f64> = 0.0..=86_400.0;
/// Longest burst, a year; longest time without a second trigger.
const SPAN_S: RangeInclusive<f64> = 0.0..=3.2e7;
const BURST_W: RangeInclusive<f64> = 0.0..=1e9;
const DEVICE_V: RangeInclusive<f64> = 0.0..=100.0;
const SHARE: RangeInclusive<f64> = 0.0..=1.0;

/// What a cell may hold on its way, wider than what it may start with: the wells are not level.
const HELD_ON_THE_WAY_C: RangeInclusive<f64> = -MOST_C..=2.0 * MOST_C;
/// A mean that was measured, with a day's swing around it.
const KELVIN_ON_THE_WAY: RangeInclusive<f64> = 0.0..=1000.0;

const MOST_C: f64 = coulombs(*CAPACITY_MAH.end());
const HELD_C: RangeInclusive<f64> = 0.0..=MOST_C;
const KELVIN: RangeInclusive<f64> = kelvin(*CELSIUS.start())..=kelvin(*CELSIUS.end());
const TESTED_A: RangeInclusive<f64> = amperes(&MILLIAMPERES);
const HALF_AT_A: RangeInclusive<f64> = amperes(&accepted::HALF_AT_MA);
const CHARGING_A: RangeInclusive<f64> = amperes(&accepted::LARGEST_CHARGING_MA);

// A range in another unit: rounding would throw out its ends on the value's way back.

const fn coulombs(mah: f64) -> f64 {
    Charge::from_milliampere_hours(mah).as_coulombs()
}

const fn days(days: f64) -> f64 {
    Time::from_days(days).as_seconds()
}

const fn kelvin(celsius: f64) -> f64 {
    Temperature::from_celsius(celsius).as_kelvin()
}

const fn amperes(milli: &RangeInclusive<f64>) -> RangeInclusive<f64> {
    let [lowest, highest] = [*milli.start(), *milli.end()];
    Current::from_milliamperes(lowest).as_amperes()
        ..=Current::from_milliamperes(highest).as_amperes()
}
