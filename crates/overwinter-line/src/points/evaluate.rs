//! The model's figure for a published one.

use overwinter_model::bench::{Duty, Progress};
use overwinter_model::cell::{Cell, CellState};
use overwinter_model::{Charge, Load, Temperature, Time, Voltage};

use super::subject::{RatedCell, subject};
use super::trial::Trial;
use super::{Condition, Mark, Row, Skip, State};

/// How the distance of two figures is judged.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Measure {
    /// Relative to the published one.
    Relative,
    /// In the quantity's own unit.
    Absolute,
}

/// The model's figure.
#[derive(Clone, Debug, PartialEq)]
pub struct Modelled {
    /// In the row's unit.
    pub ours: f64,
    /// How to compare it.
    pub measure: Measure,
    /// Cells in series in what was tested: a voltage is that of all of them.
    pub in_series: u8,
    /// What had to be assumed because the row does not tell.
    pub assumed: Option<&'static str>,
}

/// What a row without a cut-off is run to, in volts a cell: where the recorders of the rows in
/// question stop is not known. The ratio at -16 °C moves by some 3 % of itself for 0.1 V.
const ASSUMED_CUT_OFF: &str = "cut-off not told, 1.0 V a cell taken";

/// The figure that `entry` gives for `row`.
///
/// # Errors
/// A [`Skip`] with the reason if the test cannot be repeated.
pub fn evaluate(entry: &RatedCell, row: &Row) -> Result<Modelled, Skip> {
    let test = Test::new(entry, row)?;
    let relative = |ours| {
        Ok(Modelled {
            ours,
            measure: Measure::Relative,
            in_series: test.cell.in_series,
            assumed: test.assumed(),
        })
    };
    match row.quantity.as_str() {
        "ocv_V" => test.absolute(test.open_circuit()?),
        // A cell that is flat before the mark stands at nothing.
        "voltage_V" => test.absolute(test.under_load()?.unwrap_or(Voltage::ZERO)),
        "service_h" => relative(test.run()?.under_load.as_hours()),
        "service_min" => relative(60.0 * test.run()?.under_load.as_hours()),
        "service_pulses" => relative(test.pulses()?),
        "capacity_mAh" => relative(test.run()?.delivered.as_milliampere_hours()),
        "energy_Wh" => relative(test.run()?.energy.as_watt_hours()),
        "capacity_pct_of_rated" => relative(100.0 * (test.run()?.delivered / test.rated)),
        "capacity_pct_of_20C" => relative(test.percent_of(20.0)?),
        "capacity_pct_of_21C" => relative(test.percent_of(21.0)?),
        "capacity_pct_of_25C" => relative(test.percent_of(25.0)?),
        "capacity_pct_of_continuous" => relative(test.percent_of_continuous()?),
        "capacity_pct_after_storage" => relative(test.percent_kept()?),
        "resistance_ohm" => relative(test.resistance()?),
        other => Err(Skip::new(format!("the model gives no `{other}`"))),
    }
}

/// A row made ready to run.
pub(super) struct Test {
    pub(super) cell: Cell,
    pub(super) rated: Charge,
    pub(super) temperature: Temperature,
    pub(super) condition: Condition,
    pub(super) state: State,
    pub(super) cut_off: Option<Voltage>,
}

impl Test {
    /// The row with its cell, or why it cannot be run.
    pub(super) fn new(entry: &RatedCell, row: &Row) -> Result<Self, Skip> {
        let state = State::parse(&row.state)?;
        let cell = subject(entry, row, &state)?;
        let temp_c = row.temp_c.ok_or_else(|| Skip::new("no temperature"))?;
        // Driven far below its floor a cell gives what no device gets, and the model does not cover.
        let lowest = cell.floor * (0.5 * f64::from(cell.in_series));
        if row.cutoff_v.is_some_and(|volts| volts < lowest.as_volts()) {
            return Err(Skip::new("a cut-off under half of the cell's floor"));
        }
        let mut test = Self {
            rated: entry.rated * (cell.capacity / entry.cell.capacity),
            cell,
            temperature: Temperature::from_celsius(temp_c),
            condition: Condition::parse(&row.condition_load)?,
            state,
            cut_off: row.cutoff_v.map(Voltage::from_volts),
        };
        test.meet_open_circuit()?;
        Ok(test)
    }

    fn assumed(&self) -> Option<&'static str> {
        match self.condition {
            Condition::PulsesWithRests => Some("pulses of 1 It for 6 min, 1 h of rest taken"),
            Condition::Repeated { .. } | Condition::Rate(_) if self.cut_off.is_none() => {
                Some(ASSUMED_CUT_OFF)
            }
            _ => None,
        }
    }

    /// A cell that has been stored as the row says, at the temperature of the test.
    pub(super) fn aged(&self) -> CellState {
        let full = self.cell.full();
        let at = self.cell.at(self.temperature);
        self.state
            .stored
            .map_or(full, |span| at.stored(&full, span))
    }

    pub(super) fn trial(&self) -> Trial<'_> {
        Trial {
            cell: &self.cell,
            temperature: self.temperature,
            state: self.aged(),
        }
    }

    /// The load as a duty that goes on until the end.
    pub(super) fn duty(&self) -> Result<Duty, Skip> {
        let hourly = self.rated / Time::from_hours(1.0);
        match &self.condition {
            Condition::Repeated { duty, .. } => Ok(Duty::clone(duty)),
            Condition::Rate(rate) => Ok(Duty::continuous(Load::Current(hourly * *rate))),
            Condition::PulsesWithRests => Duty::continuous(Load::Current(hourly))
                .on_of_period(Time::from_seconds(360.0), Time::from_seconds(3960.0))
                .map_err(|why| Skip::new(why.to_string())),
            _ => Err(Skip::new("no load to run to the end")),
        }
    }

    /// The row's cut-off, or the assumed one.
    fn cut_off(&self) -> Voltage {
        let assumed = Voltage::from_volts(1.0) * f64::from(self.cell.in_series);
        self.cut_off.unwrap_or(assumed)
    }

    pub(super) fn run(&self) -> Result<Progress, Skip> {
        let trial = self.trial_at_mark()?;
        Ok(trial.discharge(&self.duty()?, self.cut_off()))
    }

    /// Complete pulses, and of the one that is cut off the part of its first phase that was held: a fit needs a
    /// figure that moves as the cell does, not by whole pulses.
    fn pulses(&self) -> Result<f64, Skip> {
        let end = self.run()?;
        let complete = f64::from(end.pulses);
        let Condition::Repeated {
            duty,
            cycle: Some(cycle),
            ..
        } = &self.condition
        else {
            return Ok(complete);
        };
        let first = duty
            .segments()
            .next()
            .map_or(*cycle, |segment| segment.span);
        let held = (end.under_load - *cycle * complete) / first;
        Ok(complete + held.clamp(0.0, 1.0))
    }

    /// Delivered charge as a share of that at another temperature, in per cent.
    fn percent_of(&self, temp_c: f64) -> Result<f64, Skip> {
        let other = Trial {
            temperature: Temperature::from_celsius(temp_c),
            ..self.trial_at_mark()?
        };
        let base = other.discharge(&self.duty()?, self.cut_off());
        Ok(100.0 * (self.run()?.delivered / base.delivered))
    }

    /// Delivered charge as a share of what the same load gets without rests, in per cent.
    fn percent_of_continuous(&self) -> Result<f64, Skip> {
        let Condition::Repeated {
            single: Some(load), ..
        } = self.condition
        else {
            return Err(Skip::new("no single load with rests"));
        };
        let continuous = Duty::continuous(load);
        let trial = self.trial_at_mark()?;
        let base = trial.discharge(&continuous, self.cut_off());
        Ok(100.0 * (self.run()?.delivered / base.delivered))
    }

    /// What is left after storage, in per cent: of the charge, or of what the load gets of it.
    fn percent_kept(&self) -> Result<f64, Skip> {
        let stored = self
            .state
            .stored
            .ok_or_else(|| Skip::new("no time of storage"))?;
        if self.state.mark.is_some() {
            return Err(Skip::new("a share after storage of a part-used cell"));
        }
        let at = self.cell.at(self.temperature);
        let full = self.cell.full();
        let before = self.state.base.map_or(full, |base| at.stored(&full, base));
        let after = at.stored(&full, stored);
        if self.condition == Condition::Open {
            return Ok(100.0 * (after.wells.total() / before.wells.total()));
        }
        let duty = self.duty()?;
        let delivered = |state| {
            let trial = Trial {
                state,
                ..self.trial()
            };
            trial.discharge(&duty, self.cut_off()).delivered
        };
        Ok(100.0 * (delivered(after) / delivered(before)))
    }

    fn absolute(&self, volts: Voltage) -> Result<Modelled, Skip> {
        Ok(Modelled {
            ours: volts.as_volts(),
            measure: Measure::Absolute,
            in_series: self.cell.in_series,
            assumed: None,
        })
    }

    fn under_load(&self) -> Result<Option<Voltage>, Skip> {
        let trial = self.trial();
        match &self.condition {
            Condition::Pulse(load, span) => self.pulse(*load, *span),
            Condition::Repeated {
                duty,
                cycle: Some(cycle),
                ..
            } => {
                let number = self.pulse_number(*cycle)?;
                Ok(trial.lowest_in_pulse(duty, number))
            }
            Condition::Repeated { duty, single, .. } => {
                Ok(trial.voltage_after(duty, self.time_under_load(*single)?))
            }
            _ => Err(Skip::new("a voltage without a load")),
        }
    }

    /// Which round of the phases a mark falls into, counted from 1. Charts of such tests show the
    /// lowest voltage of each round.
    fn pulse_number(&self, cycle: Time) -> Result<u32, Skip> {
        match self.state.mark {
            Some(Mark::Pulse(number)) => Ok(number),
            #[expect(
                clippy::cast_possible_truncation,
                clippy::cast_sign_loss,
                reason = "rounds of a test that ends"
            )]
            Some(Mark::UnderLoad(span)) => Ok((span / cycle).ceil() as u32),
            _ => Err(Skip::new("a profile's voltage at this mark")),
        }
    }

    /// When a mark is reached under a single load.
    pub(super) fn time_under_load(&self, load: Option<Load>) -> Result<Time, Skip> {
        let charge = match self.state.mark {
            Some(Mark::UnderLoad(span)) => return Ok(span),
            // The start of a curve: a minute after the load was connected.
            None => return Ok(Time::from_seconds(60.0)),
            Some(Mark::Delivered(charge)) => charge,
            Some(Mark::Depth(depth)) => self.cell.capacity * depth,
            Some(Mark::OfRated(share)) => self.rated * share,
            Some(Mark::Pulse(_)) => return Err(Skip::new("a pulse of a load without pulses")),
        };
        match load {
            Some(Load::Current(current)) => Ok(charge / current),
            _ => Err(Skip::new(
                "a mark in charge under a load that is no current",
            )),
        }
    }
}
