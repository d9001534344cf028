//! Days over the values of one key or two.

mod curves;
mod dots;
mod map;
mod marker;
#[cfg(test)]
pub(super) mod tests;

use super::picture::{Align, EDGE, LINE, Picture, TITLE, Text, WIDTH};

/// What to draw.
#[derive(Clone, Debug, PartialEq)]
pub struct Swept {
    /// Over the picture.
    pub title: String,
    /// One key or two.
    pub axes: Vec<SweptAxis>,
    /// The cameras.
    pub cameras: Vec<SweptCamera>,
}

/// A key and its values.
#[derive(Clone, Debug, PartialEq)]
pub struct SweptAxis {
    /// The key in words, with its unit.
    pub title: String,
    /// Its values as they are written.
    pub labels: Vec<String>,
    /// Its values, if they are numbers.
    pub numbers: Option<Vec<f64>>,
}

/// One camera at every point.
#[derive(Clone, Debug, PartialEq)]
pub struct SweptCamera {
    /// Its name.
    pub name: String,
    /// The points; the last axis's values change first.
    pub points: Vec<SweptPoint>,
}

/// One camera at one point.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SweptPoint {
    /// Days by which a tenth, half and nine tenths of the paths are dead; `None` beyond the season.
    pub days: [Option<f64>; 3],
    /// Length of the season.
    pub season_days: f64,
}

impl SweptPoint {
    /// Days at a tenth, half and nine tenths, to the season's end at most.
    fn within_season(&self) -> [f64; 3] {
        self.days.map(|days| days.unwrap_or(self.season_days))
    }

    /// The median, to the season's end at most.
    fn median(&self) -> f64 {
        let [_, median, _] = self.within_season();
        median
    }

    /// Days as they are written: `166+` beyond a season of 166.
    fn written(&self) -> [String; 3] {
        self.days.map(|days| match days {
            Some(days) => format!("{days:.0}"),
            None => format!("{:.0}+", self.season_days),
        })
    }
}

impl SweptCamera {
    /// Days alive, summed over all points: what of many cameras is drawn goes by it.
    fn endurance(&self) -> f64 {
        self.points.iter().map(SweptPoint::median).sum()
    }
}

impl SweptAxis {
    /// The numbers of its values from the least to the greatest; names stay in their order.
    fn order(&self) -> Vec<usize> {
        let mut order: Vec<usize> = (0..self.labels.len()).collect();
        if let Some(numbers) = &self.numbers {
            order.sort_by(|&a, &b| numbers[a].total_cmp(&numbers[b]));
        }
        order
    }
}

/// Days alive over the values: for one key with several numbers lines with their bands, for other
/// keys bars by value, for two keys a map for each camera.
#[must_use]
pub fn sweep(swept: &Swept) -> Picture {
    match swept.axes.as_slice() {
        [across, up] => map::map(swept, across, up),
        [axis] => match &axis.numbers {
            Some(numbers) if numbers.len() > 1 => curves::curves(swept, axis, numbers),
            _ => dots::dots(swept, axis),
        },
        _ => Picture::new(),
    }
}

/// At most `most` cameras: those that end first, in the line's order.
fn first_to_end(cameras: &[SweptCamera], most: usize) -> Vec<&SweptCamera> {
    let mut order: Vec<usize> = (0..cameras.len()).collect();
    order.sort_by(|&a, &b| cameras[a].endurance().total_cmp(&cameras[b].endurance()));
    order.truncate(most);
    order.sort_unstable();
    order.into_iter().map(|place| &cameras[place]).collect()
}

/// The length of the season, if it is the same at all points.
fn season(swept: &Swept) -> Option<f64> {
    let mut days = swept.cameras.iter().flat_map(|camera| &camera.points);
    let first = days.next()?.season_days;
    days.all(|point| (point.season_days - first).abs() < 0.5)
        .then_some(first)
}

/// The longest season.
fn longest_season(swept: &Swept) -> f64 {
    let points = swept.cameras.iter().flat_map(|camera| &camera.points);
    points.map(|point| point.season_days).fold(1.0, f64::max)
}

/// Title and notes, each on a line of its own.
fn header(picture: &mut Picture, swept: &Swept, notes: &[String]) {
    let y = EDGE + TITLE / 2;
    let title = Text::title((EDGE, y), swept.title.as_str());
    picture.text(title.within(WIDTH - 2 * EDGE));
    picture.height = y + LINE;
    for note in notes {
        let note = Text::new((EDGE, picture.height), note.as_str(), Align::Left);
        picture.text(note.within(WIDTH - 2 * EDGE));
        picture.height += LINE;
    }
}

/// What is said where not all cameras are drawn.
fn of_all(shown: usize, all: usize) -> Option<String> {
    (shown < all).then(|| format!("{shown} of {all} cameras: those that end first"))
}
