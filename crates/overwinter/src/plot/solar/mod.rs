//! Panels: the odds by their size and their store's, and what came in and went out by week.

mod contour;
mod map;
#[cfg(test)]
pub(super) mod tests;
mod weeks;

pub use map::PanelMap;
pub use weeks::{Week, WeekEnergy};

use super::picture::{Align, EDGE, LINE, Picture, TITLE, Text, WIDTH};

/// The most cameras of one picture; each takes a page of its own.
const MOST: usize = 6;

/// Left edge of all frames: room for a title, and values up to `0.25`.
const LEFT: i32 = 200;

/// Right edge of all frames.
const RIGHT: i32 = WIDTH - 60;

/// What to draw.
#[derive(Clone, Debug, PartialEq)]
pub struct Solar {
    /// Over the picture.
    pub title: String,
    /// How many seasons were sampled.
    pub seasons: u32,
    /// The cameras that have or might have a panel.
    pub cameras: Vec<CameraSolar>,
}

/// One camera.
#[derive(Clone, Debug, PartialEq)]
pub struct CameraSolar {
    /// Its name.
    pub name: String,
    /// Odds by size, if they were asked for.
    pub map: Option<PanelMap>,
    /// What came in and went out at one of the sizes, if there is such a size.
    pub weeks: Option<WeekEnergy>,
}

impl CameraSolar {
    /// The mean of its map's odds; without a map it comes after all others.
    fn ease(&self) -> f64 {
        self.map.as_ref().map_or(f64::INFINITY, PanelMap::mean)
    }
}

/// For each camera the odds that it lives through the season over the sizes of its panel and store, and
/// below that the energy of each week.
///
/// Of more than six cameras those with the lowest odds are drawn.
#[must_use]
pub fn solar(solar: &Solar) -> Picture {
    let mut picture = Picture::new();
    let shown = hardest(&solar.cameras);
    header(&mut picture, solar, shown.len());
    for camera in shown {
        heading(&mut picture, &camera.name);
        if let Some(map) = &camera.map {
            map::draw(&mut picture, map);
        }
        if let Some(weeks) = &camera.weeks {
            weeks::draw(&mut picture, weeks);
        }
    }
    picture.height += EDGE;
    picture
}

/// All, or of too many those with the lowest odds, in the line's order.
fn hardest(cameras: &[CameraSolar]) -> Vec<&CameraSolar> {
    let mut order: Vec<usize> = (0..cameras.len()).collect();
    order.sort_by(|&a, &b| cameras[a].ease().total_cmp(&cameras[b].ease()));
    order.truncate(MOST);
    order.sort_unstable();
    order.into_iter().map(|place| &cameras[place]).collect()
}

fn header(picture: &mut Picture, solar: &Solar, shown: usize) {
    let y = EDGE + TITLE / 2;
    let title = Text::title((EDGE, y), solar.title.as_str());
    picture.text(title.within(WIDTH - 2 * EDGE));
    picture.height = y + LINE;
    let mut note = format!("over {} sampled seasons", solar.seasons);
    let all = solar.cameras.len();
    if shown < all {
        note += &format!("; {shown} of {all} cameras: those with the lowest odds");
    }
    picture.text(Text::new((EDGE, picture.height), note, Align::Left));
    picture.height += LINE;
}

/// A camera's name.
fn heading(picture: &mut Picture, name: &str) {
    picture.height += LINE / 4;
    let name = Text::title((EDGE, picture.height), name);
    picture.text(name.within(WIDTH - 2 * EDGE));
    picture.height += LINE + LINE / 4;
}
