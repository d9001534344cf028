//! Which of the things that nobody knows beforehand decides how a camera does, and what to measure.

use super::measure::Spread;
use crate::line::{Camera, Figure, Quantity};
use crate::odds::{DrawnOnce, PathEnds, Unknown};
use crate::words::{plain, to_digits};

/// Seasons are split into so many equal parts by what is not known: the lowest and the highest are told.
const PARTS: usize = 5;

/// What remains open if it were known is the mean over finer parts: within a fifth it still varies.
const FINE_PARTS: usize = 10;

/// What a difference must be in its own standard deviations to be told: of twenty unknowns that do nothing
/// hardly one a line is told all the same.
const TOLD_FROM: f64 = 3.0;

/// An unknown, and how the camera does where it is low and where it is high.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Telling {
    /// Which.
    pub(super) unknown: Unknown,
    /// Its middle in the lower and in the upper fifth of the seasons.
    pub(super) values: [f64; 2],
    /// How the camera does in those.
    pub(super) sides: [Spread; 2],
    /// What the band from p10 to p90 of the days without a loss would narrow to, over what it is now, if
    /// this were known: the mean over the tenths.
    pub(super) narrows_to: f64,
}

/// The unknowns that move the result by more than its sampling error, the most telling first.
pub(super) fn telling(drawn: &[DrawnOnce], paths: &[PathEnds], season_days: f64) -> Vec<Telling> {
    let all = Spread::of(paths.iter(), season_days);
    let mut telling: Vec<Telling> = drawn
        .iter()
        .filter_map(|drawn| split(drawn, paths, season_days, &all))
        .collect();
    telling.sort_by(|a, b| a.narrows_to.total_cmp(&b.narrows_to));
    telling
}

/// The seasons split by one unknown; nothing if that moves them by no more than chance does.
fn split(drawn: &DrawnOnce, paths: &[PathEnds], season_days: f64, all: &Spread) -> Option<Telling> {
    let mut order: Vec<(f64, &PathEnds)> = drawn.values.iter().copied().zip(paths).collect();
    order.sort_by(|(a, _), (b, _)| a.total_cmp(b));
    let spread = |part: &[(f64, &PathEnds)]| {
        let ends = part.iter().map(|(_, ends)| *ends);
        Spread::of(ends, season_days)
    };
    let fifths: Vec<_> = parts(&order, PARTS).collect();
    let (lowest, highest) = (fifths.first()?, fifths.last()?);
    let (low, high) = (spread(lowest), spread(highest));
    if !low.differs_from(&high, TOLD_FROM) || all.band() <= 0.0 {
        return None;
    }
    let fine = parts(&order, FINE_PARTS);
    let within: f64 = fine.map(|part| spread(part).band()).sum();
    let middle = |part: &[(f64, &PathEnds)]| part.get(part.len() / 2).map(|(value, _)| *value);
    Some(Telling {
        unknown: drawn.unknown,
        values: [middle(lowest)?, middle(highest)?],
        sides: [low, high],
        narrows_to: within / FINE_PARTS as f64 / all.band(),
    })
}

/// So many parts of equal length, as far as that goes.
fn parts<T>(all: &[T], count: usize) -> impl Iterator<Item = &[T]> {
    (0..count)
        .filter_map(move |part| all.get(all.len() * part / count..all.len() * (part + 1) / count))
}

/// Its name where a program reads it: a key of the line file where there is one.
pub(super) fn key(unknown: Unknown) -> &'static str {
    match unknown {
        Unknown::Triggers => "triggers_per_day",
        Unknown::Temperature => "temperature",
        Unknown::Signal => "signal",
        Unknown::CellCapacity => "cell-capacity",
        Unknown::CellResistance => "cell-resistance",
        Unknown::CellVoltage => "cell-open-circuit-voltage",
        Unknown::ResistanceBeyond => "resistance-beyond-points",
        Unknown::ReachBeyond => "charge-within-reach-beyond-points",
        Unknown::Camera(Quantity::Limits) => "cutoff_v",
        Unknown::Camera(Quantity::Figure(figure)) => figure.key(),
    }
}

/// What it is, in words.
pub(super) fn name(camera: &Camera, unknown: Unknown) -> String {
    match unknown {
        Unknown::Triggers => "triggers".to_owned(),
        Unknown::Temperature => "how warm the season is".to_owned(),
        Unknown::Signal => "time on air".to_owned(),
        Unknown::CellCapacity => "capacity of the make".to_owned(),
        Unknown::CellResistance => "resistance of the make".to_owned(),
        Unknown::CellVoltage => "open-circuit voltage of the make".to_owned(),
        Unknown::ResistanceBeyond => "resistance in frost, under this load".to_owned(),
        Unknown::ReachBeyond => "charge in reach, in frost".to_owned(),
        Unknown::Camera(Quantity::Limits) => "where camera and light stop".to_owned(),
        Unknown::Camera(Quantity::Figure(figure)) => {
            let what = figure.usual(camera.kind).map_or("", |usual| usual.what);
            format!("{what}, {}", figure.key())
        }
    }
}

/// One of its values, in words.
pub(super) fn value(unknown: Unknown, value: f64) -> String {
    let percent = |factor: f64| format!("{:.0} %", 100.0 * factor);
    match unknown {
        Unknown::Triggers | Unknown::Signal | Unknown::CellCapacity | Unknown::CellResistance => {
            percent(value)
        }
        // A step beyond the points: see `BeyondPoints`.
        Unknown::ResistanceBeyond | Unknown::ReachBeyond => percent(value.exp()),
        Unknown::Temperature => format!("{value:+.1} °C"),
        Unknown::CellVoltage => format!("{:+.0} mV", 1000.0 * value),
        Unknown::Camera(Quantity::Limits) => format!("{} V", plain(to_digits(value, 2))),
        Unknown::Camera(Quantity::Figure(figure)) => {
            format!("{} {}", plain(to_digits(value, 2)), figure.unit().sign())
        }
    }
}

/// How to find out before the season, and with what; `None` where nobody can.
pub(super) fn how_to_measure(unknown: Unknown) -> Option<&'static str> {
    match unknown {
        Unknown::Temperature => None,
        Unknown::Triggers => Some("count the pictures of the first weeks on the card"),
        Unknown::Signal => Some(
            "let it send from its own place for a day, with a logging meter in the line from the pack",
        ),
        Unknown::CellCapacity => Some(
            "run one cell of the purchase down, 100 mA to 0.8 V, with a logging meter or a charger \
             that can discharge",
        ),
        Unknown::CellResistance => Some(
            "pull about 1 A from a fresh cell of the purchase for a second and read its voltage before \
             and under it (datasheets-notes/bench-protocol.md)",
        ),
        Unknown::CellVoltage => {
            Some("read fresh cells of the purchase with a voltmeter, at room temperature")
        }
        Unknown::ResistanceBeyond | Unknown::ReachBeyond => Some(
            "an afternoon with a freezer, a load resistor and a logging meter \
             (datasheets-notes/bench-protocol.md)",
        ),
        Unknown::Camera(Quantity::Limits) => Some(
            "turn a bench supply down step by step with a night picture at each: note where the light \
             dims and where the camera stops",
        ),
        Unknown::Camera(Quantity::Figure(figure)) => Some(how_to_measure_figure(figure)),
    }
}

fn how_to_measure_figure(figure: Figure) -> &'static str {
    match figure {
        Figure::Standby => {
            "put a meter with a microampere range in the line from the pack, the camera asleep for some \
             minutes"
        }
        Figure::Flash | Figure::FirstFlashTime | Figure::NextFlashTime | Figure::VideoFlash => {
            "log the current from the pack through a night picture, a sample every 10 ms or faster: with \
             the light less without it, times the voltage, and for how long"
        }
        Figure::Picture | Figure::NightPicture | Figure::VideoSize => {
            "look at the size of the files on the card"
        }
        _ => {
            "log the current from the pack through the event, a sample every 10 ms or faster: the area \
             under it times the voltage, and for how long"
        }
    }
}
