//! The hours of a season, one after the other.

use super::sunlight::SunlitDay;
use super::{Air, Installation};
use crate::activity::ActiveDay;
use crate::season::Hour;
use crate::units::{Power, Temperature};
use crate::weather::ExpectedDay;
use crate::{Day, SunDay};

/// The hours of an installation's season: see [`Installation::hours`].
///
/// Holds what the hours of a day share, and makes each when it is asked for: a day of them would be the
/// largest thing on a small device's stack.
#[derive(Clone, Debug)]
pub struct Hours<'a> {
    installation: &'a Installation,
    /// Next hour of the season, and the one before which to stop.
    next: u32,
    stop: u32,
    /// Of the day of the last hour given, if any was.
    sun: Option<SunDay>,
    air: Option<AirToday<'a>>,
    traffic: Option<ActiveDay<'a>>,
    sunlight: Option<SunlitDay<'a>>,
}

/// The air of a day.
#[derive(Clone, Debug)]
struct AirToday<'a> {
    source: AirSource<'a>,
    /// An ordinary day gets so many kelvin colder than its coldest hour.
    below_k: f64,
}

#[derive(Clone, Debug)]
enum AirSource<'a> {
    Constant(Temperature),
    Expected(ExpectedDay<'a>),
}

impl<'a> Hours<'a> {
    pub(super) const fn new(installation: &'a Installation, from: u32, to: u32) -> Self {
        Self {
            installation,
            next: from,
            stop: to,
            sun: None,
            air: None,
            traffic: None,
            sunlight: None,
        }
    }

    /// Whether none is left.
    pub(crate) const fn is_over(&self) -> bool {
        self.next >= self.stop
    }

    /// One after the other to where it stays, and not part of the caller: what each takes of a stack is
    /// free again for the next, and for the hour.
    #[inline(never)]
    fn turn_to(&mut self, number: u32) {
        let Installation {
            place,
            air,
            sunlight,
            activity,
            flash_below_sun_deg,
            first_day,
            ..
        } = self.installation;
        let day = first_day.plus(i32::try_from(number).unwrap_or(i32::MAX));
        let sun = &*self.sun.insert(SunDay::new(place, day));
        self.air = Some(AirToday::new(air, sun, day));
        self.traffic = Some(activity.day(sun, day, *flash_below_sun_deg));
        self.sunlight = sunlight.as_ref().and_then(|light| light.day(sun, day));
    }

    /// An hour of the day that was turned to.
    fn hour(&self, of_day: u8) -> Option<Hour> {
        let sun = self.sun.as_ref()?;
        let (air, coldest) = self.air.as_ref()?.hour(of_day);
        let rate = self.traffic.as_ref()?.rate(sun, of_day.into());
        let power = |light: &SunlitDay<'_>| light.power(sun, of_day.into(), air);
        let panel = self.sunlight.as_ref().map_or(Power::ZERO, power);
        Some(Hour::new(of_day, air, coldest, &rate, panel))
    }
}

impl Iterator for Hours<'_> {
    type Item = Hour;

    fn next(&mut self) -> Option<Hour> {
        if self.is_over() {
            return None;
        }
        let (number, of_day) = (self.next / 24, self.next % 24);
        if of_day == 0 || self.air.is_none() {
            self.turn_to(number);
        }
        self.next += 1;
        self.hour(of_day as u8)
    }
}

impl<'a> AirToday<'a> {
    #[inline(never)]
    fn new(air: &'a Air, sun: &SunDay, day: Day) -> Self {
        match air {
            Air::Constant(air) => Self {
                source: AirSource::Constant(*air),
                below_k: 0.0,
            },
            Air::Normals(normals) => {
                let day = normals.day(sun, day);
                let hours = (0..24).map(|hour| day.air(hour));
                Self {
                    below_k: normals.minimum_below(&day.date, hours),
                    source: AirSource::Expected(day),
                }
            }
        }
    }

    /// The air of an hour, and as cold as it may be on an ordinary day.
    #[inline(never)]
    fn hour(&self, of_day: u8) -> (Temperature, Temperature) {
        let air = match &self.source {
            AirSource::Constant(air) => *air,
            AirSource::Expected(day) => day.air(of_day.into()),
        };
        (air, air.warmer(-self.below_k))
    }
}
