//! Energy in and out by week: what a panel brought above the line, what the camera drew below it.

mod key;

use plotters::style::RGBColor;
use time::Date;

use super::{LEFT, RIGHT};
use crate::plot::axis::{Frame, Scale, THIN, labelled};
use crate::plot::dates::{DateAxis, LABELS_HEIGHT};
use crate::plot::fill::{Fill, MIDDLE, Way, ground, lined, plain};
use crate::plot::picture::{
    Align, GRID, INK, LINE, PAPER, Picture, Point, SOFT, Stroke, TEXT, Text,
};
use overwinter_line::line::Season;
use overwinter_line::odds::SunDays;

/// Energy of a season by week, means over many paths.
#[derive(Clone, Debug, PartialEq)]
pub struct WeekEnergy {
    /// Of which panel and store: `5 W, 25 Wh`.
    pub size: String,
    /// The season's weeks in their order.
    pub weeks: Vec<Week>,
    /// The season's last day.
    pub end: Date,
}

/// Means of one week, watt-hours.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Week {
    /// Its first day. It ends before the next one's, or with the season.
    pub start: Date,
    /// What went into the store or the pack to stay.
    pub stored_wh: f64,
    /// Not taken: too cold or too warm to charge, or faster than may be charged.
    pub kept_out_wh: f64,
    /// Not taken: there was no more room.
    pub spilled_wh: f64,
    /// What the camera drew.
    pub drawn_wh: f64,
    /// What of it came from the pack because a store was empty.
    pub from_pack_wh: f64,
    /// Share of the seasons in which the store was empty for a part of a day, 0 to 1, mean over the
    /// week's days; `None` without a store.
    pub dry: Option<f64>,
}

impl WeekEnergy {
    /// The weeks of a season.
    #[must_use]
    pub fn of(size: String, season: &Season, sun: &SunDays, has_store: bool) -> Self {
        let weeks = sun.weeks().map(|week| Week {
            // A day of the season, so it fits.
            start: season.first_day().plus(week.first_day as i32).date(),
            stored_wh: week.mean.stored_wh,
            kept_out_wh: week.mean.kept_out_wh,
            spilled_wh: week.mean.spilled_wh,
            drawn_wh: week.mean.drawn_wh,
            // Without a store all that is drawn is counted as from the pack.
            from_pack_wh: if has_store {
                week.mean.from_pack_wh
            } else {
                0.0
            },
            dry: has_store.then_some(week.dry),
        });
        Self {
            size,
            weeks: weeks.collect(),
            end: season.end,
        }
    }
}

/// Heights of the frames of energy and of empty stores.
const HEIGHT: i32 = 620;
const DRY_HEIGHT: i32 = 150;

/// Between the two frames.
const GAP: i32 = 44;

/// A bar narrower than this could not be seen on a phone.
const NARROWEST: i32 = 12;

/// What is far above all that was stored and drawn goes beyond the scale: it would press the rest flat.
const BEYOND: f64 = 2.5;

const STORED: Fill = plain(MIDDLE);
const KEPT_OUT: Fill = lined(PAPER, 13, Way::Up);
const SPILLED: Fill = plain(RGBColor(0xe4, 0xe4, 0xe4));
const FROM_STORE: Fill = plain(SOFT);
const FROM_PACK: Fill = lined(GRID, 13, Way::Down);

/// Some weeks together, watt-hours a day.
struct Bar {
    /// Days since the season began.
    days: (f64, f64),
    /// Stored, kept out, spilled.
    over: [f64; 3],
    /// Drawn from the store, and from the pack.
    under: [f64; 2],
    dry: Option<f64>,
}

/// Draws a key and the frames below what is there.
pub(super) fn draw(picture: &mut Picture, energy: &WeekEnergy) {
    let Some(first) = energy.weeks.first() else {
        return;
    };
    let season = Season {
        start: first.start,
        end: energy.end,
    };
    let together = together(season.days());
    let bars = bars(energy, &season, together);
    let top = top_of(&bars);
    key::head(picture, energy, together);
    key::key(picture, energy);
    key::cut_off(picture, &bars, top);
    let frame = frame(picture.height, HEIGHT);
    let dates = DateAxis::new(&season, &frame);
    energy_frame(picture, &frame, &dates, &bars, top);
    let mut bottom = frame.bottom;
    if bars.iter().any(|bar| bar.dry.is_some()) {
        bottom = dry_frame(picture, bottom, &dates, &bars);
    }
    dates.labels(picture, bottom);
    picture.height = bottom + LABELS_HEIGHT + LINE / 2;
}

fn frame(top: i32, height: i32) -> Frame {
    Frame {
        left: LEFT,
        top,
        right: RIGHT,
        bottom: top + height,
    }
}

/// How many weeks make a bar.
fn together(days: i32) -> usize {
    let week = ((RIGHT - LEFT) * 7 / days.max(1)).max(1);
    NARROWEST.unsigned_abs().div_ceil(week.unsigned_abs()) as usize
}

fn bars(energy: &WeekEnergy, season: &Season, together: usize) -> Vec<Bar> {
    let since = |date: Date| (date - season.start).whole_days() as f64;
    let weeks = &energy.weeks;
    let bars = (0..weeks.len()).step_by(together).map(|place| {
        let group = &weeks[place..(place + together).min(weeks.len())];
        let from = since(weeks[place].start);
        let to = weeks.get(place + together);
        let to = to.map_or(f64::from(season.days()), |next| since(next.start));
        let a_day = |of: fn(&Week) -> f64| group.iter().map(of).sum::<f64>() / (to - from).max(1.0);
        let from_pack = a_day(|week| week.from_pack_wh);
        let dry: Vec<f64> = group.iter().filter_map(|week| week.dry).collect();
        Bar {
            days: (from, to),
            over: [
                a_day(|week| week.stored_wh),
                a_day(|week| week.kept_out_wh),
                a_day(|week| week.spilled_wh),
            ],
            under: [a_day(|week| week.drawn_wh) - from_pack, from_pack],
            dry: (!dry.is_empty()).then(|| dry.iter().sum::<f64>() / dry.len() as f64),
        }
    });
    bars.collect()
}

/// The upper end of the scale.
fn top_of(bars: &[Bar]) -> f64 {
    let most = |of: fn(&Bar) -> f64| bars.iter().map(of).fold(0.0, f64::max);
    let all = most(|bar| bar.over.iter().sum());
    let main = most(|bar| bar.over[0]).max(most(|bar| bar.under.iter().sum()));
    if all > BEYOND * main && main > 0.0 {
        BEYOND * main
    } else {
        // At least as much room above the line as below it, for the axis's titles.
        (1.05 * all).max(main).max(0.01)
    }
}

fn energy_frame(picture: &mut Picture, frame: &Frame, dates: &DateAxis, bars: &[Bar], top: f64) {
    let under = bars.iter().map(|bar| bar.under.iter().sum());
    let bottom = 1.08 * under.fold(0.0, f64::max);
    let scale = frame.upward(-bottom..top);
    dates.grid(picture, frame);
    let mut values = Vec::new();
    for (value, label) in labelled(&scale.ticks(TEXT * 3 / 2)) {
        let y = scale.at(value);
        values.push(y);
        picture.path(frame.across(y), THIN);
        // Below the line it is as much energy as above.
        let label = label.trim_start_matches('\u{2212}');
        picture.text(Text::new((frame.left - 14, y), label, Align::Right));
    }
    let over = [STORED, KEPT_OUT, SPILLED];
    steps(picture, &scale, dates, bars, |bar| {
        over.into_iter().zip(bar.over).collect()
    });
    let under = [FROM_STORE, FROM_PACK];
    let below = |bar: &Bar| under.into_iter().zip(bar.under.map(|wh| -wh)).collect();
    steps(picture, &scale, dates, bars, below);
    for y in values {
        picture.path(frame.across(y), Stroke::solid(PAPER, 2));
    }
    for bar in bars.iter().filter(|bar| bar.over.iter().sum::<f64>() > top) {
        // Cut off: open, without an upper edge.
        let ends = [bar.days.0, bar.days.1].map(|days| (dates.scale.at(days), frame.top));
        picture.path(ends, Stroke::solid(PAPER, 7));
    }
    frame.border(picture);
    let zero = scale.at(0.0);
    picture.path(frame.across(zero), Stroke::solid(INK, 6));
    for (title, from, to) in [
        ("in, Wh a day", frame.top, zero),
        ("out", zero, frame.bottom),
    ] {
        let at = (TEXT, i32::midpoint(from, to));
        picture.text(Text::new(at, title, Align::Middle).upright());
    }
}

/// Parts from the line outwards, and a line along the outer edge of each.
fn steps(
    picture: &mut Picture,
    scale: &Scale,
    dates: &DateAxis,
    bars: &[Bar],
    parts: impl Fn(&Bar) -> Vec<(Fill, f64)>,
) {
    let mut edges: Vec<Vec<Point>> = Vec::new();
    for bar in bars {
        let (left, right) = (dates.scale.at(bar.days.0), dates.scale.at(bar.days.1));
        let mut reached = 0.0;
        for (place, (part, wh)) in parts(bar).into_iter().enumerate() {
            let (inner, outer) = (scale.at(reached), scale.at(reached + wh));
            let (high, low) = (inner.min(outer), inner.max(outer));
            ground(picture, (left, high), (right, low), part);
            if edges.len() <= place {
                edges.push(Vec::new());
            }
            edges[place].extend([(left, outer), (right, outer)]);
            reached += wh;
        }
    }
    for edge in edges {
        picture.path(edge, Stroke::solid(INK, 3));
    }
}

/// The share of seasons with an empty store; gives the frame's lower edge.
fn dry_frame(picture: &mut Picture, above: i32, dates: &DateAxis, bars: &[Bar]) -> i32 {
    let y = above + GAP;
    let head = "store empty on a day, % of seasons";
    picture.text(Text::new((LEFT, y), head, Align::Left));
    let frame = frame(y + LINE / 2 + 10, DRY_HEIGHT);
    let scale = frame.upward(0.0..100.0);
    dates.grid(picture, &frame);
    for percent in [0.0, 50.0, 100.0] {
        let y = scale.at(percent);
        picture.path(frame.across(y), THIN);
        picture.text(Text::new(
            (frame.left - 14, y),
            format!("{percent:.0}"),
            Align::Right,
        ));
    }
    for bar in bars {
        let Some(dry) = bar.dry else { continue };
        let (left, right) = (dates.scale.at(bar.days.0), dates.scale.at(bar.days.1));
        let corner = (left, scale.at(100.0 * dry));
        ground(picture, corner, (right, frame.bottom), plain(SOFT));
    }
    frame.border(picture);
    frame.bottom
}
