//! What uses the charge of each camera: a bar of the whole pack, and below it a bar of what is no
//! longer in the cells.

use super::MOST_CAMERAS;
use super::fill::{Fill, MIDDLE, Way, fill, lined, outline, plain};
use super::picture::{
    Align, EDGE, GRID, INK, LINE, PAPER, Picture, SOFT, Stroke, TEXT, TITLE, Text, WIDTH, width_of,
};

/// What to draw.
#[derive(Clone, Debug, PartialEq)]
pub struct Budget {
    /// Over the picture.
    pub title: String,
    /// Some camera has a panel, and its parts hold what that stored too.
    pub panels: bool,
    /// The cameras, each with the same parts in the same order.
    pub cameras: Vec<CameraBudget>,
}

/// One camera's bars.
#[derive(Clone, Debug, PartialEq)]
pub struct CameraBudget {
    /// Its name.
    pub name: String,
    /// How many days it lasts.
    pub days: f64,
    /// It is alive when the season ends.
    pub outlives: bool,
    /// What the energy went for and how much, watt-hours; the last part is still in the cells.
    pub parts: Vec<(&'static str, f64)>,
}

/// Height of the bar of what is gone.
const BAR: i32 = 64;

/// Height of the bar of the whole pack.
const WHOLE: i32 = 26;

/// Between the two bars, where lines spread from one to the other.
const SPREAD: i32 = 34;

/// Size of a sample in the key.
const SAMPLE: i32 = 64;

/// One for each part but the last, in their order.
const FILLS: [Fill; 10] = [
    plain(INK),
    plain(PAPER),
    plain(MIDDLE),
    lined(PAPER, 14, Way::Up),
    lined(PAPER, 14, Way::Down),
    lined(PAPER, 12, Way::Upright),
    lined(GRID, 22, Way::Across),
    lined(GRID, 26, Way::Upright),
    plain(GRID),
    lined(MIDDLE, 16, Way::Up),
];

/// The bars.
///
/// Of more than twelve cameras those are drawn that end first.
#[must_use]
pub fn budget(budget: &Budget) -> Picture {
    let mut picture = Picture::new();
    let shown = first_to_end(&budget.cameras);
    let used = used_parts(&shown);
    header(&mut picture, budget, shown.len());
    key(&mut picture, &shown, &used);
    for camera in shown {
        bars(&mut picture, camera, &used);
    }
    picture.height += EDGE;
    picture
}

fn first_to_end(cameras: &[CameraBudget]) -> Vec<&CameraBudget> {
    let mut cameras: Vec<&CameraBudget> = cameras.iter().collect();
    if cameras.len() > MOST_CAMERAS {
        cameras.sort_by(|a, b| a.days.total_cmp(&b.days));
        cameras.truncate(MOST_CAMERAS);
    }
    cameras
}

/// The places of the parts that any camera has, the last apart.
fn used_parts(cameras: &[&CameraBudget]) -> Vec<usize> {
    let places = 0..FILLS.len();
    let has = |place: usize| {
        let mut parts = cameras.iter().filter_map(|camera| gone(camera).get(place));
        parts.any(|(_, wh)| *wh > 0.0)
    };
    places.filter(|&place| has(place)).collect()
}

/// All parts but what is still in the cells.
fn gone(camera: &CameraBudget) -> &[(&'static str, f64)] {
    camera.parts.split_last().map_or(&[], |(_, gone)| gone)
}

fn header(picture: &mut Picture, budget: &Budget, shown: usize) {
    let y = EDGE + TITLE / 2;
    let title = Text::title((EDGE, y), budget.title.as_str());
    picture.text(title.within(WIDTH - 2 * EDGE));
    picture.height = y + LINE;
    let all = budget.cameras.len();
    let mut note = if budget.panels {
        "above: put in and stored from panels; below: what of it is gone"
    } else {
        "above: the pack when it went in; below: what is no longer in it"
    }
    .to_owned();
    if shown < all {
        note = format!("{note}; {shown} of {all} cameras");
    }
    picture.text(Text::new((EDGE, picture.height), note, Align::Left));
    picture.height += LINE;
}

/// A sample of each part that any camera has, as many in a row as there is room for.
fn key(picture: &mut Picture, shown: &[&CameraBudget], used: &[usize]) {
    let Some(first) = shown.first() else { return };
    let mut x = EDGE;
    for &place in used {
        let name = gone(first).get(place).map_or("", |(name, _)| *name);
        let width = SAMPLE + 16 + width_of(name, TEXT) + 44;
        if x + width > WIDTH - EDGE {
            x = EDGE;
            picture.height += LINE;
        }
        let y = picture.height;
        fill(picture, (x, y - 20), (x + SAMPLE, y + 20), FILLS[place]);
        picture.text(Text::new((x + SAMPLE + 16, y), name, Align::Left));
        x += width;
    }
    picture.height += LINE;
}

fn bars(picture: &mut Picture, camera: &CameraBudget, used: &[usize]) {
    let total: f64 = camera.parts.iter().map(|(_, wh)| wh).sum();
    let gone_wh: f64 = gone(camera).iter().map(|(_, wh)| wh).sum();
    let (left, right) = (EDGE, WIDTH - EDGE);
    let at = |share: f64| left + (share * f64::from(right - left)).round() as i32;

    let y = picture.height + LINE / 2;
    let amount = format!(
        "{gone_wh:.1} of {total:.1} Wh gone in {:.0}{} days",
        camera.days,
        if camera.outlives { "+" } else { "" }
    );
    picture.text(Text::new((right, y), amount.as_str(), Align::Right));
    let room = right - left - width_of(&amount, TEXT) - 40;
    let name = Text::new((left, y), camera.name.as_str(), Align::Left);
    picture.text(name.bold().within(room));

    let whole_top = y + LINE / 2 + 6;
    let whole_end = at(if total > 0.0 { gone_wh / total } else { 0.0 });
    picture.block((left, whole_top), (right, whole_top + WHOLE), PAPER);
    picture.block((left, whole_top), (whole_end, whole_top + WHOLE), SOFT);
    outline(picture, (left, whole_top), (right, whole_top + WHOLE));

    let top = whole_top + WHOLE + SPREAD;
    let thin = Stroke::solid(SOFT, 2);
    picture.path([(left, whole_top + WHOLE), (left, top)], thin);
    picture.path([(whole_end, whole_top + WHOLE), (right, top)], thin);
    let mut sum = 0.0;
    let mut start = left;
    for &place in used {
        let Some((_, wh)) = gone(camera).get(place) else {
            continue;
        };
        sum += wh;
        let end = at(if gone_wh > 0.0 { sum / gone_wh } else { 0.0 });
        fill(picture, (start, top), (end, top + BAR), FILLS[place]);
        share_label(picture, (start, end), top + BAR / 2, wh / gone_wh);
        start = end;
    }
    picture.height = top + BAR + LINE / 2;
}

/// The percentage in its part, where there is room.
fn share_label(picture: &mut Picture, (start, end): (i32, i32), y: i32, share: f64) {
    let label = format!("{:.0} %", 100.0 * share);
    if width_of(&label, TEXT) + 24 <= end - start {
        let middle = i32::midpoint(start, end);
        picture.text_on_paper(Text::new((middle, y), label, Align::Middle));
    }
}
