//! When the sun stands before a lens.

use overwinter_model::{Direction, SUNRISE_ALTITUDE_DEG, SunDay, Time};
use serde::Serialize;
use time::Date;

use crate::line::{Line, Season};

/// The sun is looked at every so many minutes, in the middle of each step.
const STEP_MIN: u16 = 5;

/// Facings that are tried as a better one, degrees apart.
const FACING_STEP_DEG: u16 = 5;

/// A facing is as good as the best if it has no more than this beyond it.
const AS_GOOD_H: f64 = 1.0;

/// A turn is worth the walk if it takes this share of the hours away.
const WORTH_IT: f64 = 0.2;

/// Times on each day of a season at which the sun is up, and where it stands then.
#[derive(Clone, Debug)]
pub struct InLens {
    season: Season,
    cos_within: f64,
    moments: Vec<Moment>,
    /// Hours with the sun in the lens over the season, by facing in steps of five degrees.
    by_facing_h: Vec<(f64, f64)>,
}

/// One step of one day.
#[derive(Clone, Copy, Debug)]
struct Moment {
    /// Days since the season's start.
    day: i32,
    /// Start of the step, minutes since the clock's midnight.
    minute: u16,
    sun: Direction,
}

/// The sun before one camera.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct CameraSun {
    /// Where the lens points, degrees from north through east.
    pub facing_deg: f64,
    /// Hours over the season with the sun in it.
    pub hours: f64,
    /// Days with some of them.
    pub days: usize,
    /// When.
    pub spells: Vec<Spell>,
    /// A better facing, where there is one.
    pub better: Option<Turn>,
}

/// A better facing.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Turn {
    /// Where to point the lens, degrees from north through east.
    pub facing_deg: f64,
    /// Hours over the season with the sun in it then.
    pub hours: f64,
}

/// Days on end on which the sun stands in a lens at about the same time of day.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Spell {
    /// First day.
    #[serde(serialize_with = "crate::words::iso_date")]
    pub first: Date,
    /// Each day's first and last minute of it since the clock's midnight, from the first day on.
    pub minutes: Vec<(u16, u16)>,
    /// How near the sun comes to the axis, degrees.
    pub nearest_deg: f64,
}

impl Spell {
    /// Last day.
    #[must_use]
    pub fn last(&self) -> Date {
        let days = i64::try_from(self.minutes.len()).unwrap_or(1) - 1;
        self.first.saturating_add(time::Duration::days(days))
    }

    /// Earliest and latest minute since the clock's midnight over all days.
    #[must_use]
    pub fn earliest_and_latest(&self) -> (u16, u16) {
        let earliest = self.minutes.iter().map(|day| day.0).min();
        let latest = self.minutes.iter().map(|day| day.1).max();
        (earliest.unwrap_or(0), latest.unwrap_or(0))
    }

    /// Hours in all.
    #[must_use]
    pub fn hours(&self) -> f64 {
        let minutes = self.minutes.iter().map(|(from, to)| to - from);
        minutes.map(f64::from).sum::<f64>() / 60.0
    }
}

/// Level, in this direction.
fn axis(facing_deg: f64) -> Direction {
    Direction::from_angles(0.0, facing_deg)
}

impl InLens {
    /// The sun over a line's season; it is in a lens within `within_deg` of its axis, which is taken
    /// as level.
    #[must_use]
    pub fn new(line: &Line, within_deg: f64) -> Self {
        let mut in_lens = Self {
            season: line.season,
            cos_within: within_deg.to_radians().cos(),
            moments: moments(line),
            by_facing_h: Vec::new(),
        };
        let facings = (0..360 / FACING_STEP_DEG).map(|step| f64::from(step * FACING_STEP_DEG));
        in_lens.by_facing_h = facings
            .map(|facing_deg| (facing_deg, in_lens.hours(facing_deg)))
            .collect();
        in_lens
    }

    fn hits(&self, facing_deg: f64) -> impl Iterator<Item = (&Moment, f64)> {
        let axis = axis(facing_deg);
        let hit = move |moment: &'_ Moment| moment.sun.cos_to(axis);
        self.moments
            .iter()
            .map(move |moment| (moment, hit(moment)))
            .filter(|(_, cosine)| *cosine >= self.cos_within)
    }

    fn hours(&self, facing_deg: f64) -> f64 {
        self.hits(facing_deg).count() as f64 * f64::from(STEP_MIN) / 60.0
    }

    /// The sun before a camera that faces `facing_deg` from north through east.
    #[must_use]
    pub fn camera(&self, facing_deg: f64) -> CameraSun {
        let spells = self.spells(facing_deg);
        let hours = self.hours(facing_deg);
        let mut days: Vec<i32> = self
            .hits(facing_deg)
            .map(|(moment, _)| moment.day)
            .collect();
        days.dedup();
        CameraSun {
            facing_deg,
            hours,
            days: days.len(),
            spells,
            better: self.better(facing_deg, hours),
        }
    }

    /// The nearest facing that is as good as the best; `None` if this one is nearly so.
    fn better(&self, facing_deg: f64, hours: f64) -> Option<Turn> {
        let all = || self.by_facing_h.iter();
        let least = all().map(|(_, hours)| *hours).fold(f64::INFINITY, f64::min);
        let good = least + AS_GOOD_H;
        if hours <= good || hours - least < WORTH_IT * hours {
            return None;
        }
        let turn = |to: f64| {
            let apart = (to - facing_deg).rem_euclid(360.0);
            apart.min(360.0 - apart)
        };
        let nearest = all()
            .filter(|(_, hours)| *hours <= good)
            .min_by(|one, other| turn(one.0).total_cmp(&turn(other.0)));
        nearest.map(|&(facing_deg, hours)| Turn { facing_deg, hours })
    }

    fn spells(&self, facing_deg: f64) -> Vec<Spell> {
        let mut done = Vec::new();
        let mut open: Vec<(i32, Spell)> = Vec::new();
        for interval in self.intervals(facing_deg) {
            let (ended, going): (Vec<_>, Vec<_>) = open
                .into_iter()
                .partition(|(last, _)| *last + 1 < interval.day);
            done.extend(ended.into_iter().map(|(_, spell)| spell));
            open = going;
            let of_yesterday = open.iter_mut().find(|(last, spell)| {
                *last + 1 == interval.day
                    && spell
                        .minutes
                        .last()
                        .is_some_and(|(from, to)| interval.from <= *to && interval.to >= *from)
            });
            match of_yesterday {
                Some((last, spell)) => {
                    *last = interval.day;
                    spell.minutes.push((interval.from, interval.to));
                    spell.nearest_deg = spell.nearest_deg.min(interval.nearest_deg);
                }
                None => open.push((interval.day, self.spell(&interval))),
            }
        }
        done.extend(open.into_iter().map(|(_, spell)| spell));
        done.sort_by_key(|spell| (spell.first, spell.minutes.first().copied()));
        done
    }

    fn spell(&self, interval: &Interval) -> Spell {
        Spell {
            first: self.season.first_day().plus(interval.day).date(),
            minutes: vec![(interval.from, interval.to)],
            nearest_deg: interval.nearest_deg,
        }
    }

    /// Steps on end on one day.
    fn intervals(&self, facing_deg: f64) -> Vec<Interval> {
        let mut intervals: Vec<Interval> = Vec::new();
        for (moment, cosine) in self.hits(facing_deg) {
            let away_deg = cosine.min(1.0).acos().to_degrees();
            match intervals.last_mut() {
                Some(last) if last.day == moment.day && last.to == moment.minute => {
                    last.to += STEP_MIN;
                    last.nearest_deg = last.nearest_deg.min(away_deg);
                }
                _ => intervals.push(Interval {
                    day: moment.day,
                    from: moment.minute,
                    to: moment.minute + STEP_MIN,
                    nearest_deg: away_deg,
                }),
            }
        }
        intervals
    }
}

/// Minutes on end on one day.
struct Interval {
    day: i32,
    from: u16,
    to: u16,
    nearest_deg: f64,
}

fn moments(line: &Line) -> Vec<Moment> {
    let lowest_up = SUNRISE_ALTITUDE_DEG.to_radians().sin();
    let mut moments = Vec::new();
    for day in 0..line.season.days() {
        let of_day = SunDay::new(&line.place, line.season.first_day().plus(day));
        let steps = (0..24 * 60).step_by(usize::from(STEP_MIN));
        moments.extend(steps.filter_map(|minute: u16| {
            let middle = f64::from(minute) + f64::from(STEP_MIN) / 2.0;
            let sun = of_day.direction(Time::from_seconds(60.0 * middle));
            (sun.up() > lowest_up).then_some(Moment { day, minute, sun })
        }));
    }
    moments
}
