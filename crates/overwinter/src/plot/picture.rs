//! What a picture is made of.

use overwinter_line::shown::visible;
use plotters::style::{IntoFont, RGBColor};

use super::course::without_steps;
use super::render::{PIXEL_EM, register_letters};

/// A place in a picture: units from the left and from the top.
pub(super) type Point = (i32, i32);

/// Width of every picture, units.
pub(super) const WIDTH: i32 = 1800;

/// Room between the edge of a picture and what is in it.
pub(super) const EDGE: i32 = 24;

/// Height of ordinary letters (the em): on a phone 390 pixels wide, 9 pixels.
pub(super) const TEXT: i32 = 42;

/// Height of a title's letters.
pub(super) const TITLE: i32 = 52;

/// From one line of text to the next.
pub(super) const LINE: i32 = 58;

/// Letters, and lines that matter most.
pub(super) const INK: RGBColor = RGBColor(0x1a, 0x1a, 0x1a);

/// Lines to compare with, and letters that may be passed over.
pub(super) const SOFT: RGBColor = RGBColor(0x5c, 0x5c, 0x5c);

/// Lines to find a value by.
pub(super) const GRID: RGBColor = RGBColor(0xd4, 0xd4, 0xd4);

/// Behind everything.
pub(super) const PAPER: RGBColor = RGBColor(0xff, 0xff, 0xff);

/// A picture, laid out and ready to be written.
#[derive(Clone, Debug, PartialEq)]
pub struct Picture {
    /// Height, units.
    pub(super) height: i32,
    /// What is in it; later marks lie over earlier ones.
    pub(super) marks: Vec<Mark>,
}

/// One thing in a picture.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum Mark {
    /// A line through points.
    Path(Vec<Point>, Stroke),
    /// A filled polygon.
    Area(Vec<Point>, RGBColor),
    /// A line of text.
    Text(Text),
}

/// How a line is drawn.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Stroke {
    pub(super) colour: RGBColor,
    pub(super) width: u32,
    /// Lengths of dash and gap; `None` for a solid line.
    pub(super) dash: Option<(i32, i32)>,
}

impl Stroke {
    pub(super) const fn solid(colour: RGBColor, width: u32) -> Self {
        Self {
            colour,
            width,
            dash: None,
        }
    }

    /// How much of its way it draws, in thousandths.
    pub(super) fn covers(self) -> i64 {
        self.dash.map_or(1000, |(dash, gap)| {
            i64::from(1000 * dash / (dash + gap).max(1))
        })
    }

    pub(super) const fn dashed(self, dash: i32, gap: i32) -> Self {
        Self {
            dash: Some((dash, gap)),
            ..self
        }
    }
}

/// Which part of a text stands at its place.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Align {
    Left,
    Middle,
    Right,
}

/// A line of text.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Text {
    /// Its left end, middle or right end, at half the height of its letters.
    pub(super) at: Point,
    pub(super) text: String,
    /// The em, units.
    pub(super) size: i32,
    pub(super) colour: RGBColor,
    pub(super) align: Align,
    pub(super) bold: bool,
    /// Reads from bottom to top.
    pub(super) upright: bool,
}

impl Text {
    /// Ordinary text. Names out of files pass here: nothing unprintable comes into a picture.
    pub(super) fn new(at: Point, text: impl AsRef<str>, align: Align) -> Self {
        Self {
            at,
            text: visible(text.as_ref()).into_owned(),
            size: TEXT,
            colour: INK,
            align,
            bold: false,
            upright: false,
        }
    }

    /// A title.
    pub(super) fn title(at: Point, text: impl AsRef<str>) -> Self {
        Self {
            size: TITLE,
            ..Self::new(at, text, Align::Left).bold()
        }
    }

    pub(super) fn bold(self) -> Self {
        Self { bold: true, ..self }
    }

    pub(super) fn upright(self) -> Self {
        Self {
            upright: true,
            ..self
        }
    }

    pub(super) fn colour(self, colour: RGBColor) -> Self {
        Self { colour, ..self }
    }

    /// Cut to `room` units with an ellipsis where it is longer.
    pub(super) fn within(mut self, room: i32) -> Self {
        // Bold letters are about a tenth wider.
        let room = if self.bold { room * 10 / 11 } else { room };
        if width_of(&self.text, self.size) <= room {
            return self;
        }
        let cut = |end: usize| format!("{}…", self.text[..end].trim_end());
        let ends: Vec<usize> = places_to_cut(&self.text).collect();
        // More text never takes less room, so halving finds the longest that fits.
        let fit = ends.partition_point(|&end| width_of(&cut(end), self.size) <= room);
        self.text = cut(fit.checked_sub(1).map_or(0, |last| ends[last]));
        self
    }
}

/// Where a text may end early: before each character but those that belong to the one before.
fn places_to_cut(text: &str) -> impl Iterator<Item = usize> {
    text.char_indices()
        .filter(|(_, character)| !joins_the_one_before(*character))
        .map(|(place, _)| place)
}

/// Accents on their own, joiners and forms of the character before (blocks of the Unicode Standard;
/// rarer ones are cut like letters).
fn joins_the_one_before(character: char) -> bool {
    matches!(character,
        '\u{300}'..='\u{36f}' | '\u{1ab0}'..='\u{1aff}' | '\u{1dc0}'..='\u{1dff}' | '\u{200d}'
        | '\u{20d0}'..='\u{20ff}' | '\u{fe00}'..='\u{fe0f}' | '\u{fe20}'..='\u{fe2f}'
        | '\u{1f3fb}'..='\u{1f3ff}')
}

/// Room that a line of text takes.
///
/// The letters of an SVG are the reader's own, and most are wider than the light ones that are
/// measured here: a sixth on top covers the common sans-serif fonts (tried, no source).
pub(super) fn width_of(text: &str, size: i32) -> i32 {
    register_letters();
    let measured = ("sans-serif", f64::from(size) * PIXEL_EM)
        .into_font()
        .box_size(text)
        .map_or(0, |(width, _)| i32::try_from(width).unwrap_or(0));
    measured + measured / 6
}

impl Picture {
    pub(super) fn new() -> Self {
        Self {
            height: 0,
            marks: Vec::new(),
        }
    }

    /// A line; fewer than two points are none.
    pub(super) fn path(&mut self, points: impl IntoIterator<Item = Point>, stroke: Stroke) {
        let points: Vec<Point> = points.into_iter().collect();
        if points.len() > 1 {
            self.marks.push(Mark::Path(without_steps(&points), stroke));
        }
    }

    pub(super) fn area(&mut self, points: impl IntoIterator<Item = Point>, fill: RGBColor) {
        self.marks
            .push(Mark::Area(points.into_iter().collect(), fill));
    }

    /// A filled rectangle between two corners.
    pub(super) fn block(&mut self, (left, top): Point, (right, bottom): Point, fill: RGBColor) {
        let corners = [(left, top), (right, top), (right, bottom), (left, bottom)];
        self.area(corners, fill);
    }

    pub(super) fn text(&mut self, text: Text) {
        self.marks.push(Mark::Text(text));
    }

    /// Text on a strip of paper that hides what runs behind it.
    pub(super) fn text_on_paper(&mut self, text: Text) {
        let width = width_of(&text.text, text.size);
        let (x, y) = text.at;
        let left = match text.align {
            Align::Left => x,
            Align::Middle => x - width / 2,
            Align::Right => x - width,
        };
        let half = text.size * 5 / 8;
        self.block((left - 4, y - half), (left + width + 4, y + half), PAPER);
        self.text(text);
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    fn cut(text: &str, room: i32) -> String {
        Text::new((0, 0), text, Align::Left).within(room).text
    }

    proptest! {
        #[test]
        fn a_cut_text_fits_and_no_longer_one_would(text in "[a-zM \u{e9}\u{301}]{0,60}", room in 60..900_i32) {
            let shown = cut(&text, room);
            if shown == text {
                prop_assert!(width_of(&text, TEXT) <= room);
                return Ok(());
            }
            prop_assert!(width_of(&shown, TEXT) <= room);
            let kept = shown.trim_end_matches('…');
            prop_assert!(text.starts_with(kept));
            let goes_on = |end: usize| text[end..].starts_with('\u{301}');
            prop_assert!(!goes_on(kept.len()), "{shown}");
            let next = text.char_indices().map(|(place, _)| place);
            let mut next = next.filter(|end| *end > kept.len() && !goes_on(*end));
            let longer = next.find(|end| text[..*end].trim_end().len() > kept.len());
            if let Some(end) = longer {
                let longer = format!("{}…", text[..end].trim_end());
                prop_assert!(width_of(&longer, TEXT) > room, "{longer}");
            }
        }
    }

    #[test]
    fn a_very_long_name_is_cut_in_a_moment() {
        // Two hundred thousand letters took minutes when each was taken off on its own.
        let name = "x".repeat(200_000);
        let start = std::time::Instant::now();
        let shown = cut(&name, 800);
        assert!(shown.chars().count() < 100);
        assert!(start.elapsed().as_secs() < 20, "{:?}", start.elapsed());
    }

    #[test]
    fn nothing_unprintable_comes_into_a_picture() {
        let text = Text::new((0, 0), "a\u{1b}b\u{202e}c\u{ffff}", Align::Left);
        assert_eq!(text.text, "a\\u{1b}b\\u{202e}c\\u{ffff}");
    }
}
