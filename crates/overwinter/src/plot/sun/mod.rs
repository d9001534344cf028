//! The sun over a season: its paths with the field of each lens, and daylight over the dates.

mod daylight;
mod paths;

use super::MOST_CAMERAS;
use super::axis::Frame;
use super::dates::{DateAxis, LABELS_HEIGHT};
use super::picture::{Align, EDGE, LINE, Picture, TITLE, Text, WIDTH};
use overwinter_line::answer::sun::SunAnswer;
use overwinter_line::sky::{CameraSun, zone};
use overwinter_line::words;

/// Left edge of both plots: room for a title, and values up to `100`.
const LEFT: i32 = 176;

/// Right edge of both plots.
const RIGHT: i32 = WIDTH - 60;

/// A camera whose facing is known.
type Lens<'a> = (&'a str, &'a CameraSun);

/// The sun over a line's season.
///
/// Of more than twelve cameras with a facing those are drawn that have the sun in their lens longest.
#[must_use]
pub fn sun(answer: &SunAnswer) -> Picture {
    let lenses: Vec<Lens<'_>> = answer.lenses().collect();
    let all = lenses.len();
    let shown = longest_in_lens(lenses);
    let mut picture = Picture::new();
    header(&mut picture, answer, (shown.len(), all));
    paths::draw(&mut picture, answer, &shown);
    picture.height += LINE;
    let dates = DateAxis::new(&answer.document.season, &frame(0, 1));
    let bottom = daylight::draw(&mut picture, &answer.details.sun, &dates, &shown);
    dates.labels(&mut picture, bottom);
    picture.height = bottom + LABELS_HEIGHT + EDGE;
    picture
}

/// A plot's rectangle below `top`.
fn frame(top: i32, height: i32) -> Frame {
    Frame {
        left: LEFT,
        top,
        right: RIGHT,
        bottom: top + height,
    }
}

/// All in their order, or of too many those with the sun in their lens longest.
fn longest_in_lens(mut lenses: Vec<Lens<'_>>) -> Vec<Lens<'_>> {
    if lenses.len() > MOST_CAMERAS {
        lenses.sort_by(|(_, a), (_, b)| b.hours.total_cmp(&a.hours));
        lenses.truncate(MOST_CAMERAS);
    }
    lenses
}

fn header(picture: &mut Picture, answer: &SunAnswer, (shown, all): (usize, usize)) {
    let document = &answer.document;
    let y = EDGE + TITLE / 2;
    let site = Text::title((EDGE, y), format!("The sun at {}", document.site));
    picture.text(site.within(WIDTH - 2 * EDGE));
    let season = &document.season;
    let mut lines = vec![format!(
        "{} to {}, local standard time ({})",
        words::date(season.start),
        words::date(season.end),
        zone(&answer.details.place)
    )];
    if all > 0 {
        let mut key = format!("grey: within {:.0}° of a lens's axis", document.within_deg);
        if shown < all {
            key += &format!("; {shown} of {all} cameras, the sun longest in them");
        }
        lines.push(key);
    }
    lines.push(
        "below: night dark, twilight lighter, day white; outlined, the sun in a lens".to_owned(),
    );
    picture.height = y;
    for line in lines {
        picture.height += LINE;
        let text = Text::new((EDGE, picture.height), line, Align::Left);
        picture.text(text.within(WIDTH - 2 * EDGE));
    }
    picture.height += LINE;
}
