//! The season of each camera over the dates: along the expected path, or over sampled ones.

mod air;
mod ends;
mod expected;
mod panel;
mod sampled;
mod shape;
#[cfg(test)]
pub(super) mod tests;

use overwinter_line::answer::document::SetDocument;
use overwinter_line::answer::forecast::{Course, Forecast};
use overwinter_line::words;

use super::labels;
use super::picture::{Align, EDGE, LINE, Picture, TITLE, Text, WIDTH};

/// Between two panels.
const GAP: i32 = 44;

/// The course of a line's season, and below it the temperature of the air; `course` is that of the answer, for
/// [`MOST_CAMERAS`](super::MOST_CAMERAS) at the most.
///
/// Where seasons were sampled: for each camera the charge left, the expected path within the middle eight
/// tenths of the seasons; and the share of the seasons in which it is alive and takes night pictures. Else:
/// for each camera the charge left and the lowest voltage of each day on the expected path, with its limits
/// and its ends.
#[must_use]
pub fn forecast(forecast: &Forecast, course: &Course) -> Picture {
    let mut picture = Picture::new();
    header(&mut picture, forecast, course);
    let season = &forecast.document.season;
    if forecast.document.paths.is_some() {
        let seen = course.cameras.iter().filter_map(sampled::Seen::of);
        sampled::draw(&mut picture, season, &course.air, &seen.collect::<Vec<_>>());
    } else {
        expected::draw(&mut picture, season, course);
    }
    picture
}

fn header(picture: &mut Picture, forecast: &Forecast, course: &Course) {
    let document = &forecast.document;
    let (shown, all) = (course.cameras.len(), course.of_cameras);
    let y = EDGE + TITLE / 2;
    let site = Text::title((EDGE, y), document.site.as_str());
    picture.text(site.within(WIDTH - 2 * EDGE));
    let season = &document.season;
    let mut dates = format!(
        "{} to {}",
        words::date(season.start),
        words::date(season.end)
    );
    if shown < all {
        dates += &format!("; the {shown} of {all} cameras that end first");
    }
    picture.text(Text::new((EDGE, y + LINE), dates, Align::Left));
    picture.height = y + 2 * LINE;
}

/// `8 × alkaline-aa`, with the strings where there are several.
fn cells(set: &SetDocument) -> String {
    match set.parallel {
        1 => format!("{} × {}", set.series, set.cell),
        n => format!("{n} × {} × {}", set.series, set.cell),
    }
}
