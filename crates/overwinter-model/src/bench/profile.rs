//! Temperature over the time of a test.

use heapless::Vec;

use crate::units::{Temperature, Time};

/// The most points of a [`TemperatureProfile`].
pub const MAX_PROFILE_POINTS: usize = 16;

/// A temperature at a time since the start.
type Point = (Time, Temperature);

/// Temperature by the time since a test began: straight lines between points, level after the
/// last.
#[derive(Clone, Debug, PartialEq)]
pub struct TemperatureProfile {
    points: Vec<Point, MAX_PROFILE_POINTS>,
}

/// Why a [`TemperatureProfile`] could not be made.
#[derive(Clone, Copy, Debug, PartialEq)]
#[non_exhaustive]
pub enum ProfileError {
    /// A profile has 1 to [`MAX_PROFILE_POINTS`] points; this many were given.
    Points(usize),
    /// The first point must stand at the start, at time zero; it stands here.
    Start(Time),
    /// Times must rise from point to point; they do not at this one.
    NotRising(Time),
}

impl core::fmt::Display for ProfileError {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        match self {
            Self::Points(n) => {
                write!(
                    f,
                    "a temperature profile has 1 to {MAX_PROFILE_POINTS} points, got {n}"
                )
            }
            Self::Start(at) => write!(
                f,
                "a temperature profile starts at 0 h, got {} h first",
                at.as_hours()
            ),
            Self::NotRising(at) => write!(
                f,
                "the times of a temperature profile must rise, they do not at {} h",
                at.as_hours()
            ),
        }
    }
}

impl core::error::Error for ProfileError {}

impl TemperatureProfile {
    /// The same temperature throughout.
    #[must_use]
    pub fn constant(temperature: Temperature) -> Self {
        let mut points = Vec::new();
        // One point always has room.
        let _ = points.push((Time::ZERO, temperature));
        Self { points }
    }

    /// A profile through `points`, the first at time zero.
    ///
    /// # Errors
    /// [`ProfileError`] if there are none or too many, or their times do not rise from zero.
    pub fn new(points: &[Point]) -> Result<Self, ProfileError> {
        match points {
            [(start, _), ..] if *start != Time::ZERO => return Err(ProfileError::Start(*start)),
            _ => {}
        }
        for pair in points.windows(2) {
            if let [(before, _), (after, _)] = pair
                && after <= before
            {
                return Err(ProfileError::NotRising(*after));
            }
        }
        match Vec::from_slice(points) {
            Ok(points) if !points.is_empty() => Ok(Self { points }),
            _ => Err(ProfileError::Points(points.len())),
        }
    }

    /// The temperature at a time since the start.
    #[must_use]
    pub fn at(&self, elapsed: Time) -> Temperature {
        let (before, after) = self.around(elapsed);
        let Some((start, from)) = before else {
            return after.map_or(Temperature::REFERENCE, |(_, to)| to);
        };
        let Some((end, to)) = after else { return from };
        let share = (elapsed - start) / (end - start);
        let (from, to) = (from.as_celsius(), to.as_celsius());
        Temperature::from_celsius(from + (to - from) * share)
    }

    /// How long from `elapsed` the temperature stays within `kelvin` of what it is, at the least,
    /// and no point is passed; `None` without an end.
    #[must_use]
    pub fn steady_for(&self, elapsed: Time, kelvin: f64) -> Option<Time> {
        let (before, after) = self.around(elapsed);
        let (end, to) = after?;
        let left = end - elapsed;
        let change = before.map_or(0.0, |(_, from)| (to.as_celsius() - from.as_celsius()).abs());
        let whole = before.map_or(left, |(start, _)| end - start);
        if change <= kelvin {
            return Some(left);
        }
        Some(left.min(whole * (kelvin / change)))
    }

    /// The last point up to `elapsed` and the first after it.
    fn around(&self, elapsed: Time) -> (Option<Point>, Option<Point>) {
        let before = self.points.iter().rev().find(|(at, _)| *at <= elapsed);
        let after = self.points.iter().find(|(at, _)| *at > elapsed);
        (before.copied(), after.copied())
    }

    /// The points it was made from.
    #[must_use]
    pub fn points(&self) -> &[Point] {
        &self.points
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn point(hours: f64, celsius: f64) -> (Time, Temperature) {
        (Time::from_hours(hours), Temperature::from_celsius(celsius))
    }

    #[test]
    fn lines_between_points_and_level_after() {
        let profile = TemperatureProfile::new(&[point(0.0, 20.0), point(2.0, -10.0)]).unwrap();
        for (hours, celsius) in [(0.0, 20.0), (1.0, 5.0), (2.0, -10.0), (50.0, -10.0)] {
            let at = profile.at(Time::from_hours(hours)).as_celsius();
            assert!((at - celsius).abs() < 1e-9, "{hours} h: {at}");
        }
        let steady = profile.steady_for(Time::from_hours(1.0), 0.3).unwrap();
        assert!((steady.as_hours() - 0.02).abs() < 1e-9, "{steady:?}");
        assert_eq!(profile.steady_for(Time::from_hours(3.0), 0.3), None);
    }

    #[test]
    fn profiles_that_make_no_sense_are_refused() {
        assert_eq!(TemperatureProfile::new(&[]), Err(ProfileError::Points(0)));
        let late = [point(1.0, 20.0)];
        assert_eq!(
            TemperatureProfile::new(&late),
            Err(ProfileError::Start(late[0].0))
        );
        let back = [point(0.0, 20.0), point(2.0, 0.0), point(1.0, 5.0)];
        assert_eq!(
            TemperatureProfile::new(&back),
            Err(ProfileError::NotRising(back[2].0))
        );
    }
}
