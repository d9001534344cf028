//! When the sun stands above a height between one midnight of the clock and the next.

use core::f64::consts::PI;

use super::{SunDay, geocentric_sine};
use crate::Time;
use crate::arithmetic::clamp;

/// Halvings of the time in which the sun passes a height: from a day to less than a millisecond.
const HALVINGS: u32 = 30;

impl SunDay {
    /// The times of this day of the clock at which the sun's centre stands above `altitude_deg`, from
    /// when to when since the midnight that starts the day, all within 0 to 24 hours, the earliest
    /// first.
    ///
    /// One that begins at 0 or ends at 24 hours goes on in the neighbouring day. Near the polar circles
    /// there may be two: the sun that rose the day before may set minutes after midnight. Good to a few
    /// seconds where the sun crosses steeply, and to minutes where it grazes the height. See
    /// [`SunDay::above`] for the whole time around this day's noon.
    pub fn spans_above(&self, altitude_deg: f64) -> impl Iterator<Item = (Time, Time)> {
        let sine = geocentric_sine(altitude_deg);
        let is_above = |hours: f64| self.direction(Time::from_hours(hours)).up() > sine;
        // From one highest or lowest place to the next the sun only climbs or only sinks; that its
        // declination moves them by minutes changes their height by less than 0.001 degrees.
        let half_turn = PI / self.hour_angle_rad_per_h;
        let noon = self.noon_h();
        let turning = [0.0, noon - half_turn, noon, noon + half_turn, 24.0]
            .map(|hours| clamp(hours, 0.0, 24.0));
        let mut spans = [None; 3];
        let mut free = spans.iter_mut();
        let mut since = is_above(0.0).then_some(0.0);
        for stretch in turning.windows(2) {
            let &[from, to] = stretch else { continue };
            let at_end = is_above(to);
            if at_end == since.is_some() {
                continue;
            }
            let passes = crossing((from, to), |hours| is_above(hours) == at_end);
            match since.take() {
                None => since = Some(passes),
                Some(since) => note(&mut free, (since, passes)),
            }
        }
        if let Some(since) = since {
            note(&mut free, (since, 24.0));
        }
        spans.into_iter().flatten()
    }
}

type Span = (Time, Time);

fn note<'a>(free: &mut impl Iterator<Item = &'a mut Option<Span>>, (from, to): (f64, f64)) {
    if let Some(place) = free.next() {
        *place = Some((Time::from_hours(from), Time::from_hours(to)));
    }
}

/// When something begins to be true that is not at the start and is at the end.
fn crossing((mut from, mut to): (f64, f64), is_so: impl Fn(f64) -> bool) -> f64 {
    for _ in 0..HALVINGS {
        let middle = 0.5 * (from + to);
        if is_so(middle) {
            to = middle;
        } else {
            from = middle;
        }
    }
    to
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;
    use crate::{Day, Place, SUNRISE_ALTITUDE_DEG, SunAbove};

    fn sun(latitude: f64, longitude: f64, day: i32) -> SunDay {
        let zone = libm::round(longitude / 15.0);
        let place = Place::new(latitude, longitude, zone).unwrap();
        SunDay::new(&place, Day::from_days_since_2000(day))
    }

    fn hours(sun: &SunDay, altitude_deg: f64) -> std::vec::Vec<(f64, f64)> {
        let spans = sun.spans_above(altitude_deg);
        spans
            .map(|(from, to)| (from.as_hours(), to.as_hours()))
            .collect()
    }

    #[test]
    fn where_nights_are_longer_they_are_those_around_noon() {
        for day in 0..366 {
            let sun = sun(-52.0, 30.0, day);
            let SunAbove::Between { up, down } = sun.above(SUNRISE_ALTITUDE_DEG) else {
                panic!("it rises and sets");
            };
            let spans = hours(&sun, SUNRISE_ALTITUDE_DEG);
            assert_eq!(spans.len(), 1);
            assert!((spans[0].0 - up.as_hours()).abs() < 1e-5);
            assert!((spans[0].1 - down.as_hours()).abs() < 1e-5);
        }
    }

    #[test]
    fn around_the_midnight_sun_days_have_none_one_or_two_rises_and_sets() {
        let mut seen = [[0; 3]; 2];
        // Where the sun's midnight comes half an hour before the clock's, and as much after it.
        for longitude in [22.4, 7.6] {
            for tenth in (-720..=-600).chain(600..=720) {
                for day in 0..366 {
                    let sun = sun(f64::from(tenth) / 10.0, longitude, day);
                    let spans = hours(&sun, SUNRISE_ALTITUDE_DEG);
                    let rises = spans.iter().filter(|span| span.0 > 0.0).count();
                    let sets = spans.iter().filter(|span| span.1 < 24.0).count();
                    assert!(rises.abs_diff(sets) <= 1, "{spans:?}");
                    seen[0][rises] += 1;
                    seen[1][sets] += 1;
                }
            }
        }
        let each = |times: &[i32; 3]| times.iter().all(|times| *times > 10);
        assert!(seen.iter().all(each), "{seen:?}");
    }

    proptest! {
        #[test]
        fn spans_lie_within_the_day_in_order_and_the_sun_is_up_in_them_alone(
            latitude in -90.0..90.0_f64, longitude in -180.0..180.0_f64,
            day in -18_000..18_000_i32, altitude in -12.0..10.0_f64,
        ) {
            let sun = sun(latitude, longitude, day);
            let spans = hours(&sun, altitude);
            let mut before = 0.0;
            for (from, to) in &spans {
                prop_assert!(before <= *from && from < to && *to <= 24.0, "{spans:?}");
                before = *to;
            }
            for minute in 0..24 * 60 {
                let at = f64::from(minute) / 60.0;
                let above = sun.direction(Time::from_hours(at)).elevation_deg() - altitude;
                let inside = spans.iter().any(|(from, to)| (*from..=*to).contains(&at));
                // The height asked for is seen from the ground, and grazing is told to a hair.
                prop_assert!(above.abs() < 0.004 || inside == (above > 0.0), "{at} {above} {spans:?}");
            }
        }
    }
}
