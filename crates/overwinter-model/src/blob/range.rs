//! Whether what a blob holds can be run: every value in the range of its quantity.
//!
//! The types that have a constructor check themselves; here is the rest. The ranges are wide: they
//! keep the model's arithmetic finite and its loops short, and leave what is merely unusual alone.

use core::ops::RangeInclusive;

use crate::cell::{Cell, CellState, Charging, Resistor, Specimen, accepted};
use crate::draw::{Burst, Draw, Event, Upload, UploadMode};
use crate::harvest::Store;
use crate::pack::{Pack, PackState};
use crate::season::Feeds;
use crate::units::{Charge, Current, Temperature, Time};

/// A value that a device cannot run with.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct OutOfRange {
    /// Which, with its unit.
    pub what: &'static str,
    /// The value.
    pub value: f64,
    /// The lowest that is taken.
    pub lowest: f64,
    /// The highest that is taken.
    pub highest: f64,
}

impl core::fmt::Display for OutOfRange {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
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

/// Whether a value, which may be no number, lies in a range.
pub(crate) fn within(
    what: &'static str,
    value: f64,
    range: &RangeInclusive<f64>,
) -> Result<(), OutOfRange> {
    if range.contains(&value) {
        return Ok(());
    }
    Err(OutOfRange {
        what,
        value,
        lowest: *range.start(),
        highest: *range.end(),
    })
}

/// A range in another unit. Rounding does not throw its ends out, as it would the value's way back.
fn scaled(range: &RangeInclusive<f64>, to: impl Fn(f64) -> f64) -> RangeInclusive<f64> {
    to(*range.start())..=to(*range.end())
}

fn kelvin(range: &RangeInclusive<f64>) -> RangeInclusive<f64> {
    scaled(range, |celsius| {
        Temperature::from_celsius(celsius).as_kelvin()
    })
}

fn amperes(range: &RangeInclusive<f64>) -> RangeInclusive<f64> {
    scaled(range, |ma| Current::from_milliamperes(ma).as_amperes())
}

/// The most that charging may move in an hour, in capacities: the time loop divides it in
/// four-hundredths.
const FASTEST_CHARGE_PER_H: f64 = 100.0;

/// As old as a cell may be, years.
const OLDEST_YEARS: f64 = 100.0;

/// As much as a cell may be polarised either way, volts.
const POLARISATION_V: RangeInclusive<f64> = -10.0..=10.0;

/// Longest burst, a year; longest time without a second trigger.
const SPAN_S: RangeInclusive<f64> = 0.0..=3.2e7;
const BURST_W: RangeInclusive<f64> = 0.0..=1e9;
const STANDBY_W: RangeInclusive<f64> = 0.0..=1e3;
/// What happens by the clock, at most every second.
const PER_DAY: RangeInclusive<f64> = 0.0..=86_400.0;
const PICTURES: RangeInclusive<f64> = 0.0..=1e4;
const DEVICE_V: RangeInclusive<f64> = 0.0..=100.0;
const CARD_MB: RangeInclusive<f64> = 1e-3..=1e9;
const STORE_J: RangeInclusive<f64> = 1.0..=1e9;
pub(super) const SHARE: RangeInclusive<f64> = 0.0..=1.0;
const WRITTEN_MB: RangeInclusive<f64> = 0.0..=1e9;

/// Everything about the cells.
pub(super) fn pack(pack: &Pack, start: &PackState) -> Result<(), OutOfRange> {
    cell(pack.cell())?;
    state(pack.cell().specimen(), &start.ordinary)?;
    state(pack.weakest(), &start.weakest)
}

fn cell(cell: &Cell) -> Result<(), OutOfRange> {
    let in_series = accepted::IN_SERIES;
    within(
        "cells in a case",
        f64::from(cell.in_series),
        &(f64::from(*in_series.start())..=f64::from(*in_series.end())),
    )?;
    let coulombs = scaled(&accepted::CAPACITY_MAH, |mah| {
        Charge::from_milliampere_hours(mah).as_coulombs()
    });
    within("capacity (C)", cell.capacity.as_coulombs(), &coulombs)?;
    open_circuit(cell)?;
    let per_k = cell.open_circuit_per_k;
    within("open-circuit V/K", per_k, &accepted::VOLTS_PER_K)?;
    resistor(&cell.ohmic)?;
    resistor(&cell.slow)?;
    let slow_s = cell.slow_time.as_seconds();
    within("slow time (s)", slow_s, &accepted::SECONDS)?;
    kinetics(cell)?;
    storage(cell)?;
    within("spread", cell.spread, &accepted::SPREAD)?;
    within("spread of grades", cell.grade_spread, &accepted::SPREAD)?;
    let uncertainty = cell.cold_uncertainty;
    within(
        "uncertainty in the cold",
        uncertainty,
        &accepted::UNCERTAINTY,
    )?;
    if let Some(how) = &cell.charging {
        charging(cell, how)?;
    }
    tested(cell)
}

fn open_circuit(cell: &Cell) -> Result<(), OutOfRange> {
    let (lowest, mut highest) = accepted::VOLTS.into_inner();
    for volts in cell.open_circuit.volts {
        within("open-circuit voltage (V)", volts, &(lowest..=highest))?;
        highest = volts;
    }
    let fresh = cell.open_circuit.at(0.0).as_volts();
    within("floor (V)", cell.floor.as_volts(), &(lowest..=fresh))
}

fn resistor(resistor: &Resistor) -> Result<(), OutOfRange> {
    let ohms = resistor.fresh.as_ohms();
    within("resistance (ohm)", ohms, &accepted::OHMS)?;
    within("growth of resistance", resistor.growth, &accepted::GROWTH)?;
    let late = resistor.late_growth;
    within("late growth of resistance", late, &accepted::GROWTH)?;
    let activation = resistor.activation_k;
    within("activation (K)", activation, &accepted::ACTIVATION_K)
}

fn kinetics(cell: &Cell) -> Result<(), OutOfRange> {
    let kinetics = &cell.kinetics;
    within(
        "available share",
        kinetics.available_share,
        &accepted::SHARE,
    )?;
    let rate = kinetics.rate_per_second;
    within("levelling rate (1/s)", rate, &accepted::RATE_PER_S)?;
    let activation = cell.kinetics_activation_k;
    within("activation (K)", activation, &accepted::ACTIVATION_K)
}

fn storage(cell: &Cell) -> Result<(), OutOfRange> {
    let storage = &cell.storage;
    let seconds = scaled(&accepted::DAYS, |days| Time::from_days(days).as_seconds());
    within("loss (1/a)", storage.loss_per_year, &accepted::LOSS)?;
    within("early loss", storage.early_loss, &accepted::LOSS)?;
    within("early time (s)", storage.early_time.as_seconds(), &seconds)?;
    let activation = storage.activation_k;
    within("activation (K)", activation, &accepted::ACTIVATION_K)?;
    let growth = storage.resistance_growth_per_year;
    within("growth of resistance (1/a)", growth, &accepted::LOSS)
}

/// How the cell is charged. A primary cell must not be.
fn charging(cell: &Cell, charging: &Charging) -> Result<(), OutOfRange> {
    let largest = charging.largest.as_amperes();
    if !cell.chemistry.rechargeable() {
        within(
            "charging current (A) of a primary cell",
            largest,
            &(0.0..=0.0),
        )?;
    }
    within(
        "charge efficiency",
        charging.efficiency,
        &accepted::EFFICIENCY,
    )?;
    let limit = charging.limit.as_volts();
    within("charging limit (V)", limit, &accepted::VOLTS)?;
    let per_k = charging.limit_per_k;
    within("charging limit (V/K)", per_k, &accepted::VOLTS_PER_K)?;
    let currents = amperes(&accepted::LARGEST_CHARGING_MA);
    within("charging current (A)", largest, &currents)?;
    let per_hour = charging.largest * Time::from_hours(1.0) / cell.capacity;
    let fastest = 0.0..=FASTEST_CHARGE_PER_H;
    within("charging current (capacities an hour)", per_hour, &fastest)?;
    span_of_air(charging.coldest, charging.warmest)
}

fn tested(cell: &Cell) -> Result<(), OutOfRange> {
    let tested = &cell.tested;
    let currents = amperes(&accepted::MILLIAMPERES);
    within(
        "tested current (A)",
        tested.heaviest.as_amperes(),
        &currents,
    )?;
    let frost = tested.heaviest_in_frost.as_amperes();
    within("tested current in frost (A)", frost, &currents)?;
    span_of_air(tested.coldest, tested.warmest)
}

fn span_of_air(coldest: Temperature, warmest: Temperature) -> Result<(), OutOfRange> {
    let (lowest, highest) = kelvin(&accepted::CELSIUS).into_inner();
    let warmest = warmest.as_kelvin();
    within("warmest (K)", warmest, &(lowest..=highest))?;
    within("coldest (K)", coldest.as_kelvin(), &(lowest..=warmest))
}

/// What a cell holds: no more than goes in, to rounding.
fn state(one: Specimen<'_>, state: &CellState) -> Result<(), OutOfRange> {
    let share = one.cell().kinetics.available_share;
    let most = |share| 0.0..=one.capacity().as_coulombs() * share * (1.0 + 1e-9);
    let available = state.wells.available.as_coulombs();
    within("available charge (C)", available, &most(share))?;
    let bound = state.wells.bound.as_coulombs();
    within("bound charge (C)", bound, &most(1.0 - share))?;
    let volts = state.polarisation.as_volts();
    within("polarisation (V)", volts, &POLARISATION_V)?;
    let oldest = 0.0..=Time::from_days(OLDEST_YEARS * 365.25).as_seconds();
    within("age (s)", state.age.as_seconds(), &oldest)
}

/// Everything that the camera draws.
pub(super) fn draw(draw: &Draw) -> Result<(), OutOfRange> {
    within("standby (W)", draw.standby.as_watts(), &STANDBY_W)?;
    event(&draw.day_trigger)?;
    event(&draw.night_trigger)?;
    within(
        "pictures by the clock (1/d)",
        draw.scheduled_per_day,
        &PER_DAY,
    )?;
    within("quiet time (s)", draw.quiet.as_seconds(), &SPAN_S)?;
    if let Some(how) = &draw.upload {
        upload(how)?;
    }
    if let Some(check_in) = &draw.check_in {
        within("reports (1/d)", check_in.per_day, &PER_DAY)?;
        event(&check_in.event)?;
        within(
            "lowest for reports (V)",
            check_in.lowest.as_volts(),
            &DEVICE_V,
        )?;
    }
    if let Some(card) = &draw.card {
        within("room on the card (MB)", card.capacity_mb, &CARD_MB)?;
        for written in [card.day_trigger_mb, card.night_trigger_mb] {
            within("written by a trigger (MB)", written, &WRITTEN_MB)?;
        }
    }
    within("cut-off (V)", draw.cut_off.as_volts(), &DEVICE_V)?;
    within(
        "lowest for the flash (V)",
        draw.flash_lowest.as_volts(),
        &DEVICE_V,
    )
}

fn upload(upload: &Upload) -> Result<(), OutOfRange> {
    if let UploadMode::Daily { hour } = upload.mode {
        within("hour of the upload", f64::from(hour), &(0.0..=23.0))?;
    }
    burst(&upload.session)?;
    burst(&upload.picture)?;
    within(
        "pictures sent by a trigger",
        upload.pictures_per_trigger,
        &PICTURES,
    )?;
    within(
        "lowest for uploads (V)",
        upload.lowest.as_volts(),
        &DEVICE_V,
    )
}

fn event(event: &Event) -> Result<(), OutOfRange> {
    event.bursts().iter().try_for_each(burst)
}

fn burst(burst: &Burst) -> Result<(), OutOfRange> {
    within("length of a burst (s)", burst.span.as_seconds(), &SPAN_S)?;
    within("power of a burst (W)", burst.power.as_watts(), &BURST_W)?;
    within("power of the light (W)", burst.flash.as_watts(), &BURST_W)
}

/// What a panel charges.
pub(super) fn feeds(feeds: &Feeds) -> Result<(), OutOfRange> {
    match feeds {
        Feeds::Store(full) => store(full),
        Feeds::Pack { lag } => within("lag of the pack (s)", lag.as_seconds(), &SPAN_S),
    }
}

fn store(store: &Store) -> Result<(), OutOfRange> {
    let joules = store.capacity.as_joules();
    within("capacity of the store (J)", joules, &STORE_J)?;
    let kept = store.charge_efficiency;
    within("charge efficiency of the store", kept, &SHARE)?;
    if let Some(coldest) = store.limit.coldest {
        let kelvin = kelvin(&accepted::CELSIUS);
        within("coldest of the store (K)", coldest.as_kelvin(), &kelvin)?;
    }
    if let Some(warmest) = store.limit.warmest {
        let kelvin = kelvin(&accepted::CELSIUS);
        within("warmest of the store (K)", warmest.as_kelvin(), &kelvin)?;
    }
    if let Some(highest) = store.limit.highest {
        within("charging of the store (W)", highest.as_watts(), &BURST_W)?;
    }
    within("lag of the store (s)", store.lag.as_seconds(), &SPAN_S)?;
    let lost = store.self_discharge_per_month;
    within("self-discharge of the store (1/month)", lost, &SHARE)
}
