//! What ended, and when: labels above a panel with lines down to the voltage that decided.

use overwinter_line::line::Season;
use overwinter_model::season::{Ending, Outcome};

use super::super::axis::{Frame, Scale};
use super::super::dates::DateAxis;
use super::super::labels::{Span, rows};
use super::super::picture::{Align, EDGE, INK, LINE, Picture, Stroke, TEXT, Text, WIDTH, width_of};
use super::expected::{LEFT, RIGHT};
use super::shape::Shape;

/// Between two labels in a row.
const GAP: i32 = 36;

/// From a label's line to its text.
const BESIDE: i32 = 30;

const GUIDE: Stroke = Stroke::solid(INK, 2);

/// A label above a panel.
pub(super) struct Flag {
    text: String,
    /// Shape, place along the dates, and voltage if there was one.
    end: Option<(Shape, i32, Option<f64>)>,
    span: Span,
    row: usize,
}

/// The labels of an outcome, in rows in which none meets another.
pub(super) fn flags(season: &Season, dates: &DateAxis, outcome: &Outcome) -> Vec<Flag> {
    let ends = [
        (
            "night pictures lost",
            Shape::Triangle,
            outcome.ends[Ending::NightPictures],
        ),
        ("uploads fail", Shape::Square, outcome.ends[Ending::Uploads]),
        ("card full", Shape::Diamond, outcome.ends[Ending::CardRoom]),
        ("dead", Shape::Cross, outcome.ends[Ending::Camera]),
    ];
    let mut flags: Vec<Flag> = ends
        .into_iter()
        .filter_map(|(what, shape, end)| {
            let end = end?;
            let text = format!("{what} {}", season.name_of(season.date(end.after)));
            let x = dates.scale.at(end.after.as_days());
            let volts = end.voltage.map(|voltage| voltage.as_volts());
            Some(Flag::new(text, Some((shape, x, volts))))
        })
        .collect();
    if outcome.ends[Ending::Camera].is_none() {
        flags.push(Flag::new("runs to the end".to_owned(), None));
    }
    let spans: Vec<Span> = flags.iter().map(|flag| flag.span).collect();
    for (flag, row) in flags.iter_mut().zip(rows(&spans, GAP)) {
        flag.row = row;
    }
    flags
}

/// How many rows they take.
pub(super) fn rows_of(flags: &[Flag]) -> i32 {
    let rows = flags.iter().map(|flag| flag.row + 1).max().unwrap_or(0);
    // At most five labels.
    rows as i32
}

impl Flag {
    fn new(text: String, end: Option<(Shape, i32, Option<f64>)>) -> Self {
        let width = width_of(&text, TEXT);
        let span = match end {
            Some((_, x, _)) => Span {
                start: x - BESIDE / 2,
                length: width + BESIDE + BESIDE / 2,
            }
            .between(LEFT, WIDTH - EDGE),
            None => Span {
                start: RIGHT - width,
                length: width,
            },
        };
        Self {
            text,
            end,
            span,
            row: 0,
        }
    }
}

/// Lines and shapes first, then the labels over them.
pub(super) fn draw(picture: &mut Picture, frame: &Frame, volts: &Scale, flags: &[Flag]) {
    let height_of = |flag: &Flag| frame.top - LINE / 2 - LINE * flag.row as i32;
    for flag in flags {
        if let Some((shape, x, voltage)) = flag.end {
            let y = voltage.map_or(frame.bottom, |voltage| volts.at(voltage));
            picture.path([(x, height_of(flag)), (x, frame.bottom)], GUIDE);
            shape.draw(picture, (x, y));
        }
    }
    for flag in flags {
        let y = height_of(flag);
        let Some((shape, ..)) = flag.end else {
            picture.text_on_paper(Text::new((RIGHT, y), flag.text.as_str(), Align::Right));
            continue;
        };
        let at = (flag.span.start + BESIDE + BESIDE / 2, y);
        picture.text_on_paper(Text::new(at, flag.text.as_str(), Align::Left));
        shape.draw(picture, (flag.span.start + BESIDE / 2, y));
    }
}
