//! The sun over a season: its paths with the field of each lens, and daylight over the dates.

mod daylight;
mod paths;

use super::MOST_CAMERAS;
use super::axis::Frame;
use super::dates::{DateAxis, LABELS_HEIGHT};
use super::picture::{Align, EDGE, LINE, Picture, TITLE, Text, WIDTH};
use overwinter_line::line::{Camera, Line};
use overwinter_line::sky::{CameraSun, SunSeason, zone};
use overwinter_line::words;

/// Left edge of both plots: room for a title, and values up to `100`.
const LEFT: i32 = 176;

/// Right edge of both plots.
const RIGHT: i32 = WIDTH - 60;

/// A camera whose facing is known.
type Lens<'a> = (&'a Camera, &'a CameraSun);

/// The sun over a line's season.
///
/// Of more than twelve cameras with a facing those are drawn that have the sun in their lens longest.
#[must_use]
pub fn sun(line: &Line, season: &SunSeason) -> Picture {
    let lenses: Vec<Lens<'_>> = line
        .cameras
        .iter()
        .zip(&season.cameras)
        .filter_map(|(camera, sun)| Some((camera, sun.as_ref()?)))
        .collect();
    let all = lenses.len();
    let shown = longest_in_lens(lenses);
    let mut picture = Picture::new();
    header(&mut picture, line, season, (shown.len(), all));
    paths::draw(&mut picture, line, season, &shown);
    picture.height += LINE;
    let dates = DateAxis::new(&line.season, &frame(0, 1));
    let bottom = daylight::draw(&mut picture, season, &dates, &shown);
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

fn header(picture: &mut Picture, line: &Line, sun: &SunSeason, (shown, all): (usize, usize)) {
    let y = EDGE + TITLE / 2;
    let site = Text::title((EDGE, y), format!("The sun at {}", line.site));
    picture.text(site.within(WIDTH - 2 * EDGE));
    let season = &line.season;
    let mut lines = vec![format!(
        "{} to {}, local standard time ({})",
        words::date(season.start),
        words::date(season.end),
        zone(&line.place)
    )];
    if all > 0 {
        let mut key = format!("grey: within {:.0}° of a lens's axis", sun.within_deg);
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
