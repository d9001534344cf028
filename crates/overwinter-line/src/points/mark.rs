//! Where in a discharge a row was read: the cell is brought there, or the row is skipped.

use overwinter_model::Voltage;
use overwinter_model::cell::CellState;

use super::evaluate::Test;
use super::trial::Trial;
use super::{Condition, Mark, Skip};

/// Halvings of the depth: far finer than any published voltage.
const HALVINGS: u32 = 50;

impl Test {
    /// The cell as the row found it, without polarisation: stored as long as the row says, with the charge of
    /// its mark taken out.
    ///
    /// # Errors
    /// A [`Skip`] for a mark in time or pulses, since the row does not say what was connected until then, and for more
    /// charge than the cell holds.
    pub(super) fn at_mark(&self) -> Result<CellState, Skip> {
        let mut state = self.aged();
        state.wells = state.wells.scaled(1.0 - self.depth_at_mark()?);
        Ok(state)
    }

    /// A test that begins at the mark.
    pub(super) fn trial_at_mark(&self) -> Result<Trial<'_>, Skip> {
        Ok(Trial {
            state: self.at_mark()?,
            ..self.trial()
        })
    }

    /// The share of the capacity that the mark takes out.
    pub(super) fn depth_at_mark(&self) -> Result<f64, Skip> {
        let depth = match self.state.mark {
            None => 0.0,
            Some(Mark::Depth(depth)) => depth,
            Some(Mark::Delivered(charge)) => charge / self.cell.capacity,
            Some(Mark::OfRated(share)) => self.rated * share / self.cell.capacity,
            Some(Mark::UnderLoad(_)) => {
                return Err(Skip::new(
                    "the load before the test is not told, only for how long",
                ));
            }
            Some(Mark::Pulse(_)) => {
                return Err(Skip::new(
                    "the load before the test is not told, only how many pulses",
                ));
            }
        };
        if (0.0..1.0).contains(&depth) {
            return Ok(depth);
        }
        Err(Skip::new(format!(
            "the state takes {:.0} mAh out, and our cell holds {:.0}",
            (self.cell.capacity * depth).as_milliampere_hours(),
            self.cell.capacity.as_milliampere_hours()
        )))
    }

    /// The open-circuit voltage of the row.
    ///
    /// # Errors
    /// A [`Skip`] under a load, and for a mark that cannot be reached.
    pub(super) fn open_circuit(&self) -> Result<Voltage, Skip> {
        if self.condition != Condition::Open {
            return Err(Skip::new("an open-circuit voltage under a load"));
        }
        Ok(self.volts_at(&self.at_mark()?))
    }

    /// The voltage without a load of all cells in series.
    pub(super) fn volts_at(&self, state: &CellState) -> Voltage {
        let circuit = self.cell.at(self.temperature).circuit(state);
        circuit.open_circuit * f64::from(self.cell.in_series)
    }

    /// Gives the cell the open-circuit voltage that the row states.
    ///
    /// Where the row says how much charge is gone (`fresh`, `full`, a mark), the whole curve shifts: what
    /// differs at a known depth is the make, and makes differ by a shift
    /// ([`Makes::open_circuit`](overwinter_model::cell::Makes)). A depth could not do it: some makes stand
    /// higher when new than ours at any depth. Where the row does not say, the voltage tells the depth.
    ///
    /// # Errors
    /// A [`Skip`] for a voltage that the curve does not have.
    pub(super) fn meet_open_circuit(&mut self) -> Result<(), Skip> {
        let Some(stated) = self.state.open_circuit else {
            return Ok(());
        };
        if !self.state.new && self.state.mark.is_none() {
            self.state.mark = Some(Mark::Depth(self.depth_of(stated)?));
            return Ok(());
        }
        // Of a new cell that a test then uses up, it is the voltage before the test.
        let state = if self.state.new {
            self.aged()
        } else {
            self.at_mark()?
        };
        let shift = (stated - self.volts_at(&state)) / f64::from(self.cell.in_series);
        for volts in &mut self.cell.open_circuit.volts {
            *volts += shift.as_volts();
        }
        Ok(())
    }

    /// The depth at which the cell has an open-circuit voltage.
    fn depth_of(&self, stated: Voltage) -> Result<f64, Skip> {
        let aged = self.aged();
        let at = |depth: f64| {
            let mut state = aged;
            state.wells = state.wells.scaled(1.0 - depth);
            self.volts_at(&state)
        };
        let (mut least, mut most) = (0.0, 1.0);
        if stated > at(least) || stated < at(most) {
            return Err(Skip::new(format!(
                "our cell has no depth with {} V without a load",
                stated.as_volts()
            )));
        }
        for _ in 0..HALVINGS {
            let middle = (least + most) / 2.0;
            if at(middle) >= stated {
                least = middle;
            } else {
                most = middle;
            }
        }
        Ok(least)
    }
}
