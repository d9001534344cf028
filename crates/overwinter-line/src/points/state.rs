//! The column `state`: what had been done to the cell before.

use overwinter_model::{Charge, Time, Voltage};

use super::Skip;

/// Where in a discharge a figure was read.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Mark {
    /// After this time under load.
    UnderLoad(Time),
    /// At this complete pulse.
    Pulse(u32),
    /// After this charge.
    Delivered(Charge),
    /// After this share of the capacity.
    Depth(f64),
    /// After this share of the rated capacity.
    OfRated(f64),
}

/// What had been done to the cell before the figure was read.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct State {
    /// Said to be fresh or full.
    pub new: bool,
    /// Open-circuit voltage that was measured on it, of all cells in series: before the test of a new cell, otherwise
    /// where the figure was read.
    pub open_circuit: Option<Voltage>,
    /// Stored before the test.
    pub stored: Option<Time>,
    /// A share is relative to the charge after this long instead of at once.
    pub base: Option<Time>,
    /// Where in the discharge.
    pub mark: Option<Mark>,
    /// The maker's rating of the cell under test, if it differs from the catalogue's.
    pub rated: Option<Charge>,
}

impl State {
    /// Reads the column.
    ///
    /// # Errors
    /// A [`Skip`] for a state that the model cannot be put into, and for bounds.
    pub fn parse(text: &str) -> Result<Self, Skip> {
        let mut state = Self::default();
        for part in text.split(';').map(str::trim) {
            match part.split_once('=') {
                Some((key, value)) => state.set(key, value)?,
                None => state.word(part)?,
            }
        }
        Ok(state)
    }

    fn word(&mut self, word: &str) -> Result<(), Skip> {
        match word {
            "low" | "high" => Err(Skip::new("a bound, not a figure")),
            "drive profile, all states" => {
                self.mark = Some(Mark::Depth(0.5));
                Ok(())
            }
            "fresh" | "full" => {
                self.new = true;
                Ok(())
            }
            _ if word.starts_with("full (") => {
                self.new = true;
                Ok(())
            }
            "" => Ok(()),
            _ if word.starts_with("mean of") => Ok(()),
            _ => Err(Skip::new(format!("the state `{word}` cannot be set up"))),
        }
    }

    fn set(&mut self, key: &str, value: &str) -> Result<(), Skip> {
        let skip = || Skip::new(format!("the state `{key}={value}` cannot be set up"));
        if key == "base" {
            let day: f64 = value
                .trim_start_matches("day ")
                .parse()
                .map_err(|_| skip())?;
            self.base = Some(Time::from_days(day));
            return Ok(());
        }
        let number: f64 = value.parse().map_err(|_| skip())?;
        match key {
            "t_h" => self.mark = Some(Mark::UnderLoad(Time::from_hours(number))),
            "t_min" => self.mark = Some(Mark::UnderLoad(Time::from_hours(number / 60.0))),
            "pulses" => self.mark = Some(Mark::Pulse(whole(number).ok_or_else(skip)?)),
            "q_mAh" => self.mark = Some(Mark::Delivered(Charge::from_milliampere_hours(number))),
            "dod" => self.mark = Some(Mark::Depth(number)),
            "q_pct_of_rated" => self.mark = Some(Mark::OfRated(number / 100.0)),
            "ocv_V" => self.open_circuit = Some(Voltage::from_volts(number)),
            "stored_months" => self.stored = Some(Time::from_days(number * 365.25 / 12.0)),
            "stored_days" => self.stored = Some(Time::from_days(number)),
            "rated_mAh" => self.rated = Some(Charge::from_milliampere_hours(number)),
            // Which of several like cells: the model knows only one.
            "unit" | "cell" => {}
            // How long it lay at the temperature: the model's cell has it throughout.
            "soaked_h" => {}
            _ => return Err(skip()),
        }
        Ok(())
    }
}

/// A count.
fn whole(number: f64) -> Option<u32> {
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "checked against the range"
    )]
    (number >= 0.0 && number <= f64::from(u32::MAX)).then_some(number.round() as u32)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn marks_and_ages() {
        let state = State::parse("fresh;stored_months=12;t_h=2").unwrap();
        assert_eq!(state.mark, Some(Mark::UnderLoad(Time::from_hours(2.0))));
        assert_eq!(state.stored, Some(Time::from_days(365.25)));
    }

    #[test]
    fn a_measured_open_circuit_voltage_goes_with_what_is_known_of_the_charge() {
        let new = State::parse("fresh;ocv_V=1.825").unwrap();
        assert_eq!(new.open_circuit, Some(Voltage::from_volts(1.825)));
        assert!(new.new);
        assert!(!State::parse("ocv_V=1.485").unwrap().new);
    }

    #[test]
    fn what_cannot_be_set_up_is_skipped() {
        for text in [
            "fresh;low",
            "acid_molality=3",
            "early",
            "stored_months=15 from",
        ] {
            assert!(State::parse(text).is_err(), "{text}");
        }
    }
}
