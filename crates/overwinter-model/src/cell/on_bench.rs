//! A cell as a source for bench tests.

use super::{Cell, CellAt, CellState};
use crate::bench::{Source, TemperatureProfile};
use crate::circuit::{Circuit, Polarisation};
use crate::units::{Charge, Current, Time};

/// A step takes the temperature as constant over so many kelvin: a ramp moves the end of a test by
/// less than 0.1 % against ten times finer steps.
const LARGEST_CHANGE_K: f64 = 0.25;

/// A cell on the bench, with nothing lost to storage while the test runs.
#[derive(Clone, Copy, Debug)]
pub struct CellOnBench<'a> {
    at: CellAt<'a>,
    state: CellState,
    course: Option<Course<'a>>,
}

/// A temperature that moves while the test runs.
#[derive(Clone, Copy, Debug)]
struct Course<'a> {
    profile: &'a TemperatureProfile,
    elapsed: Time,
}

impl<'a> CellOnBench<'a> {
    /// A cell in `state`, held at the temperature of `at`.
    #[must_use]
    pub fn new(at: CellAt<'a>, state: CellState) -> Self {
        Self {
            at,
            state,
            course: None,
        }
    }

    /// A cell in `state` whose temperature follows `profile` from now on.
    #[must_use]
    pub fn through(cell: &'a Cell, profile: &'a TemperatureProfile, state: CellState) -> Self {
        Self {
            at: cell.at(profile.at(Time::ZERO)),
            state,
            course: Some(Course {
                profile,
                elapsed: Time::ZERO,
            }),
        }
    }

    /// Its state now.
    #[must_use]
    pub fn state(&self) -> &CellState {
        &self.state
    }
}

impl Source for CellOnBench<'_> {
    fn circuit(&self) -> Circuit {
        let one = self.at.circuit(&self.state);
        let cells = f64::from(self.at.cell.in_series);
        one.in_series(cells)
    }

    fn polarisation(&self) -> Polarisation {
        self.state.polarisation * f64::from(self.at.cell.in_series)
    }

    fn advance(&mut self, current: Current, span: Time) {
        let Some(course) = &mut self.course else {
            self.state = self.at.after(&self.state, current, span);
            return;
        };
        let cell = self.at.cell;
        let halfway = cell.at(course.profile.at(course.elapsed + span / 2.0));
        self.state = halfway.after(&self.state, current, span);
        course.elapsed += span;
        self.at = cell.at(course.profile.at(course.elapsed));
    }

    fn is_empty(&self) -> bool {
        self.at.within_reach(&self.state.wells) <= Charge::ZERO
    }

    fn longest_step(&self, current: Current) -> Time {
        // A 400th of the charge: the open-circuit table has no piece shorter than a fiftieth.
        let by_charge = if current > Current::ZERO {
            self.at.capacity / current / 400.0
        } else {
            Time::from_days(3650.0)
        };
        let steady = self
            .course
            .and_then(|course| course.profile.steady_for(course.elapsed, LARGEST_CHANGE_K));
        steady.map_or(by_charge, |steady| by_charge.min(steady))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::bench::{Duty, Progress, discharge};
    use crate::cell::catalogue::find;
    use crate::units::{Temperature, Voltage};
    use crate::{Load, Power};

    fn run(source: &mut CellOnBench<'_>) -> Progress {
        let duty = Duty::continuous(Load::Power(Power::from_milliwatts(150.0)));
        discharge(source, duty.segments(), Voltage::from_volts(0.9), |_| {}).0
    }

    fn hours(points: &[(f64, f64)]) -> TemperatureProfile {
        let points: std::vec::Vec<_> = points
            .iter()
            .map(|(hours, celsius)| {
                (
                    Time::from_hours(*hours),
                    Temperature::from_celsius(*celsius),
                )
            })
            .collect();
        TemperatureProfile::new(&points).unwrap()
    }

    #[test]
    fn a_level_profile_is_one_temperature() {
        let cell = &find("alkaline-aa").unwrap().cell;
        let cold = Temperature::from_celsius(-10.0);
        let held = run(&mut CellOnBench::new(cell.at(cold), cell.full()));
        let profile = TemperatureProfile::constant(cold);
        let followed = run(&mut CellOnBench::through(cell, &profile, cell.full()));
        assert!(
            (held.elapsed / followed.elapsed - 1.0).abs() < 1e-6,
            "{held:?} {followed:?}"
        );
    }

    #[test]
    fn a_ramp_is_followed_to_a_thousandth() {
        let cell = &find("alkaline-aa").unwrap().cell;
        let ramp = hours(&[(0.0, 20.0), (8.0, -15.0)]);
        let coarse = run(&mut CellOnBench::through(cell, &ramp, cell.full()));
        let mut fine = Fine(CellOnBench::through(cell, &ramp, cell.full()));
        let duty = Duty::continuous(Load::Power(Power::from_milliwatts(150.0)));
        let (fine, _) = discharge(&mut fine, duty.segments(), Voltage::from_volts(0.9), |_| {});
        let error = (coarse.elapsed / fine.elapsed - 1.0).abs();
        assert!(error < 1e-3, "{error}");
        // And the ramp matters: held at 20 °C the cell lasts longer.
        let warm = run(&mut CellOnBench::new(
            cell.at(Temperature::REFERENCE),
            cell.full(),
        ));
        assert!(warm.elapsed > coarse.elapsed * 1.2, "{warm:?} {coarse:?}");
    }

    /// A source in steps ten times shorter.
    #[derive(Clone)]
    struct Fine<'a>(CellOnBench<'a>);

    impl Source for Fine<'_> {
        fn circuit(&self) -> Circuit {
            self.0.circuit()
        }

        fn polarisation(&self) -> Polarisation {
            self.0.polarisation()
        }

        fn advance(&mut self, current: Current, span: Time) {
            self.0.advance(current, span);
        }

        fn is_empty(&self) -> bool {
            self.0.is_empty()
        }

        fn longest_step(&self, current: Current) -> Time {
            self.0.longest_step(current) / 10.0
        }
    }
}
