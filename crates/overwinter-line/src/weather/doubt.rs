//! What can be read in a weather file and can hardly be: columns that were taken for others.

use overwinter_model::{Place, SunDay, Time};

use super::{BELIEVED_C, NEW_YEAR, WeatherHour};

/// Something that can hardly be in a weather file's year.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum FileDoubt {
    /// The dew point lies above the air's temperature, which no air has: dew falls first.
    DewAboveAir {
        /// In so many hours.
        hours: usize,
        /// Of so many that have both.
        of: usize,
    },
    /// Global light is not what direct and diffuse light add up to.
    LightDoesNotAddUp {
        /// On so many days.
        days: usize,
        /// Of so many with light.
        of: usize,
    },
}

/// Dew points are rounded, and fog is measured a little above saturation: common practice, no source.
const DEW_ROOM_K: f64 = 1.0;

/// Where the columns are swapped nearly all hours stand out, in sound files hardly one.
const DEW_SHARE: f64 = 0.1;

/// Dew points held against the air, hour by hour.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct DewPoints {
    above: usize,
    of: usize,
}

impl DewPoints {
    /// Takes the air's temperature and the dew point's field; one that is no temperature says nothing.
    pub(super) fn note(&mut self, air_c: f64, field: &str) {
        let dew_c = field.parse().ok();
        let Some(dew_c) = dew_c.filter(|dew_c: &f64| BELIEVED_C.contains(dew_c)) else {
            return;
        };
        self.of += 1;
        self.above += usize::from(dew_c > air_c + DEW_ROOM_K);
    }

    pub(super) fn doubt(self) -> Option<FileDoubt> {
        let Self { above, of } = self;
        let many = above as f64 > DEW_SHARE * of as f64;
        many.then_some(FileDoubt::DewAboveAir { hours: above, of })
    }
}

/// A day with less light than this is dark: its sums are rounding and twilight.
const LIT_WH_PER_M2: f64 = 200.0;

/// What a day's sums may be apart: a share of the larger, and so much. On the worst day of four sound
/// files they are 8 % apart, with the sun half an hour off 14 % (measured); instruments have a room of
/// their own.
const LIGHT_ROOM: f64 = 0.25;
const LIGHT_ROOM_WH_PER_M2: f64 = 100.0;

/// More of the days than this, and it is no instrument's fault.
const LIGHT_SHARE: f64 = 0.25;

/// Holds each day's global light against what direct and diffuse light add up to, where a file has all
/// three, with the sun `light_offset` later than the middle of each hour.
pub(super) fn light(place: &Place, hours: &[WeatherHour], light_offset: Time) -> Option<FileDoubt> {
    let has = |light: fn(&WeatherHour) -> f64| hours.iter().any(|hour| light(hour) > 0.0);
    let has_all = has(|hour| hour.ghi_w_per_m2)
        && has(|hour| hour.dni_w_per_m2)
        && has(|hour| hour.dhi_w_per_m2);
    if !has_all {
        return None;
    }
    let (mut off, mut lit) = (0_usize, 0_usize);
    for (index, day) in (0..).zip(hours.chunks(24)) {
        let sun = SunDay::new(place, NEW_YEAR.plus(index));
        let (mut global, mut closed) = (0.0, 0.0);
        for (at, hour) in (0_u8..).zip(day) {
            let middle = Time::from_hours(f64::from(at) + 0.5) + light_offset;
            let up = sun.direction(middle).up().max(0.0);
            global += hour.ghi_w_per_m2;
            closed += hour.dhi_w_per_m2 + hour.dni_w_per_m2 * up;
        }
        let larger: f64 = closed.max(global);
        if larger > LIT_WH_PER_M2 {
            lit += 1;
            let room = LIGHT_ROOM * larger + LIGHT_ROOM_WH_PER_M2;
            off += usize::from((closed - global).abs() > room);
        }
    }
    let many = off as f64 > LIGHT_SHARE * lit as f64;
    many.then_some(FileDoubt::LightDoesNotAddUp { days: off, of: lit })
}
