//! Files whose light is not that of the middle of their hours.
//!
//! Some are made from satellite pictures at another minute, or stamp their hours otherwise than
//! their format says. The light itself tells: only with the sun in the right place does
//! `global = diffuse + beam × cos (zenith)` close.

use overwinter_model::{Place, SunDay, Time};

use super::{NEW_YEAR, WeatherHour};

/// Offsets that are looked at: an hour and a half to either side, every five minutes.
const FARTHEST_MIN: i32 = 90;
const STEP_MIN: i32 = 5;

/// Every third day is enough to see it.
const EVERY_DAYS: usize = 3;

/// Hours with less beam than this say little about where the sun stood.
const LEAST_BEAM_W_PER_M2: f64 = 50.0;

/// Fewer such hours than this are no ground for a correction.
const FEWEST_HOURS: usize = 100;

/// A correction must bring the gap under half of what it was, and by more than rounding to whole
/// watts and the hours of sunrise and sunset leave: 0.4 to 1.5 W/m2 in files that need none
/// (measured).
const LEAST_GAIN: f64 = 0.5;
const LEAST_GAP_W_PER_M2: f64 = 3.0;

/// How much later than the middle of each hour the sun stands where the light of that hour closes
/// with it; zero where the middle of the hour does, or where there is too little beam to tell.
///
/// Good to about a minute. `hours` are a year's, in local standard time of `place`.
#[must_use]
pub fn light_offset(place: &Place, hours: &[WeatherHour]) -> Time {
    let beams = Beams::of(place, hours);
    if beams.hours.len() < FEWEST_HOURS {
        return Time::ZERO;
    }
    let at_middle = beams.gap(0.0);
    let steps = FARTHEST_MIN / STEP_MIN;
    let best = (-steps..=steps)
        .map(|step| f64::from(step * STEP_MIN))
        .map(|minutes| (beams.gap(minutes), minutes))
        .min_by(|one, other| one.0.total_cmp(&other.0));
    match best {
        Some((gap, minutes)) if at_middle > LEAST_GAP_W_PER_M2 && gap < LEAST_GAIN * at_middle => {
            Time::from_seconds(60.0 * beams.between_steps(minutes))
        }
        _ => Time::ZERO,
    }
}

/// The hours with beam, each with its day's sun.
struct Beams<'a> {
    suns: Vec<SunDay>,
    /// Index of the sun, middle of the hour, and the hour.
    hours: Vec<(usize, f64, &'a WeatherHour)>,
}

impl<'a> Beams<'a> {
    fn of(place: &Place, hours: &'a [WeatherHour]) -> Self {
        let mut beams = Self {
            suns: Vec::new(),
            hours: Vec::new(),
        };
        for (index, day) in hours.chunks(24).enumerate().step_by(EVERY_DAYS) {
            // A year's days, so it fits.
            beams
                .suns
                .push(SunDay::new(place, NEW_YEAR.plus(index as i32)));
            let sun = beams.suns.len() - 1;
            let lit = day
                .iter()
                .enumerate()
                .filter(|(_, hour)| hour.dni_w_per_m2 >= LEAST_BEAM_W_PER_M2)
                .map(|(at, hour)| (sun, at as f64 + 0.5, hour));
            beams.hours.extend(lit);
        }
        beams
    }

    /// Root of the mean square of what does not close, W/m2, with the sun so many minutes later.
    fn gap(&self, minutes: f64) -> f64 {
        let squares = self.hours.iter().map(|(sun, middle_h, hour)| {
            let sun = self.suns[*sun].direction(Time::from_hours(middle_h + minutes / 60.0));
            let closed = hour.dhi_w_per_m2 + hour.dni_w_per_m2 * sun.up().max(0.0);
            (hour.ghi_w_per_m2 - closed).powi(2)
        });
        (squares.sum::<f64>() / self.hours.len() as f64).sqrt()
    }

    /// The minutes at which the square of the gap is least, by a parabola through a step and its
    /// neighbours: close to its least the square is one.
    fn between_steps(&self, minutes: f64) -> f64 {
        let step = f64::from(STEP_MIN);
        let [before, at, after] =
            [minutes - step, minutes, minutes + step].map(|m| self.gap(m).powi(2));
        let bend = before - 2.0 * at + after;
        if bend <= 0.0 {
            return minutes;
        }
        minutes + step * (before - after) / (2.0 * bend)
    }
}

#[cfg(test)]
mod tests {
    use overwinter_model::Irradiance;
    use overwinter_model::harvest::{SkyDay, clear_sky};
    use proptest::prelude::*;

    use super::*;

    /// A year of clear sky whose light is `minutes` later than the middle of each hour.
    fn year(place: &Place, minutes: f64) -> Vec<WeatherHour> {
        let offset = Time::from_seconds(60.0 * minutes);
        let day = |day: i32| {
            let sky = SkyDay::new(place, NEW_YEAR.plus(day), 100.0, offset);
            let lit = sky.suns().map(|sun| {
                let light = clear_sky::ineichen(&sun, 3.0, 100.0);
                let watts = |light: Irradiance| light.as_w_per_m2().round();
                WeatherHour {
                    air_c: 5.0,
                    ghi_w_per_m2: watts(light.global),
                    dni_w_per_m2: watts(light.beam),
                    dhi_w_per_m2: watts(light.diffuse),
                }
            });
            lit.into_iter()
        };
        (0..365).flat_map(day).collect()
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(12))]

        #[test]
        fn an_offset_is_found(latitude in -66.0..66.0_f64, minutes in 15.0..80.0_f64, late: bool) {
            let minutes = if late { minutes } else { -minutes };
            let place = Place::new(latitude, 8.0, 1.0).unwrap();
            let found = light_offset(&place, &year(&place, minutes)).as_seconds() / 60.0;
            prop_assert!((found - minutes).abs() < 1.0, "{found} for {minutes}");
        }
    }

    #[test]
    fn a_file_on_the_hour_is_left_alone() {
        let place = Place::new(50.0, 8.0, 1.0).unwrap();
        assert_eq!(light_offset(&place, &year(&place, 0.0)), Time::ZERO);
    }

    #[test]
    fn a_file_without_beam_is_left_alone() {
        let place = Place::new(50.0, 8.0, 1.0).unwrap();
        let overcast = |hour: WeatherHour| WeatherHour {
            dni_w_per_m2: 0.0,
            ..hour
        };
        let hours: Vec<WeatherHour> = year(&place, 40.0).into_iter().map(overcast).collect();
        assert_eq!(light_offset(&place, &hours), Time::ZERO);
    }
}
