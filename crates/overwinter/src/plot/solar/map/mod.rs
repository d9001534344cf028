//! Odds over the sizes of a panel and its store.

mod marks;

use plotters::style::RGBColor;

use self::marks::{Mark, RADIUS};
use super::{LEFT, RIGHT, contour};
use crate::plot::axis::{Frame, plain};
use crate::plot::grid::Grid;
use crate::plot::picture::{
    Align, EDGE, INK, LINE, Picture, SOFT, Stroke, TEXT, Text, WIDTH, width_of,
};

/// The odds that a camera lives through the season, by size.
#[derive(Clone, Debug, PartialEq)]
pub struct PanelMap {
    /// The panels, watts, rising.
    pub panels_w: Vec<f64>,
    /// The stores, watt-hours, rising; a single 0 for a panel that charges the pack.
    pub stores_wh: Vec<f64>,
    /// Odds, 0 to 1, for each store those of all panels.
    pub odds: Vec<Vec<f64>>,
    /// The odds that are wanted, 0 to 1.
    pub wanted_odds: f64,
    /// Places of the chosen panel and store, if any reaches the wanted odds.
    pub chosen: Option<(usize, usize)>,
    /// Watts and watt-hours of the camera's own panel and store, if it has them.
    pub own: Option<(f64, f64)>,
}

impl PanelMap {
    pub(super) fn mean(&self) -> f64 {
        let odds = || self.odds.iter().flatten();
        odds().sum::<f64>() / odds().count().max(1) as f64
    }

    /// Whether the panel charges a store.
    fn has_store(&self) -> bool {
        self.stores_wh.iter().any(|wh| *wh > 0.0)
    }

    fn wants(&self, odds: f64) -> bool {
        (odds - self.wanted_odds).abs() < 1e-9
    }

    fn at(&self, panel: usize, store: usize) -> f64 {
        let odds = self.odds.get(store).and_then(|odds| odds.get(panel));
        odds.copied().unwrap_or(0.0)
    }

    /// The odds that a line is drawn for, those that some sizes reach and others do not, from the lowest;
    /// with each how it is drawn.
    fn levels(&self) -> Vec<(f64, Stroke)> {
        let wanted = self.wanted_odds;
        let others = USUAL.into_iter().filter(|(odds, _)| !self.wants(*odds));
        let mut levels: Vec<_> = others.chain([(wanted, WANTED)]).collect();
        levels.retain(|(level, _)| {
            let mut all = self.odds.iter().flatten();
            let first = all.next().is_some_and(|odds| odds >= level);
            all.any(|odds| (odds >= level) != first)
        });
        levels.sort_by(|(a, _), (b, _)| a.total_cmp(b));
        levels
    }
}

/// Lines of these odds are told apart by their dashes.
const USUAL: [(f64, Stroke); 3] = [
    (0.5, Stroke::solid(INK, 4).dashed(5, 10)),
    (0.8, Stroke::solid(INK, 4).dashed(24, 12)),
    (0.95, Stroke::solid(INK, 4)),
];

/// The line of the wanted odds.
const WANTED: Stroke = Stroke::solid(INK, 10);

/// From one line to the next where they run along one edge.
const ASIDE: i32 = 14;

/// Height of a cell: its figure, and a mark below it.
const CELL: i32 = 120;

/// The lowest map: as high as the title of its upright axis is long.
const LOWEST: i32 = 260;

/// From the top of a cell to its figure.
const FIGURE_DOWN: i32 = 46;

/// A sample of a line in the key.
const SAMPLE: i32 = 90;

/// Draws a key and the map below what is there.
pub(super) fn draw(picture: &mut Picture, map: &PanelMap) {
    if map.panels_w.is_empty() || map.stores_wh.is_empty() {
        return;
    }
    let levels = map.levels();
    head(picture, map);
    key(picture, map, &levels);
    let up = map.stores_wh.len();
    let top = picture.height;
    // As many rows as there are stores, so it fits.
    let lowest = if map.has_store() { LOWEST } else { CELL };
    let bottom = top + (CELL * up as i32).max(lowest);
    let frame = Frame {
        left: LEFT,
        top,
        right: RIGHT,
        bottom,
    };
    let grid = Grid {
        frame,
        across: map.panels_w.len(),
        up,
    };
    cells(picture, &grid, map);
    for (place, (level, stroke)) in (0..).zip(&levels) {
        // From the middle of all lines, so that each is as near to the edges as it can be.
        let aside = ASIDE * (2 * place + 1 - i32::try_from(levels.len()).unwrap_or(1)) / 2;
        let reaches = |panel, store| map.at(panel, store) >= *level;
        contour::line(picture, &grid, reaches, aside, *stroke);
    }
    let (left, right) = (frame.left, frame.right);
    let around = [
        (left, top),
        (right, top),
        (right, bottom),
        (left, bottom),
        (left, top),
    ];
    picture.path(around, Stroke::solid(SOFT, 2));
    marks::marks(picture, &grid, map);
    sides(picture, &grid, map);
}

/// What the figures are.
fn head(picture: &mut Picture, map: &PanelMap) {
    let head = Text::new(
        (EDGE, picture.height),
        "alive at the end, % of seasons",
        Align::Left,
    );
    picture.text(head.bold());
    if map.levels().iter().all(|(odds, _)| !map.wants(*odds)) {
        let reached = map
            .odds
            .iter()
            .flatten()
            .all(|odds| *odds >= map.wanted_odds);
        let who = if reached { "every size" } else { "no size" };
        let note = format!("{who} reaches {} %", percent(map.wanted_odds));
        picture.text(Text::new(
            (WIDTH - EDGE, picture.height),
            note,
            Align::Right,
        ));
    }
    picture.height += LINE;
}

/// The lines on one line of text, the marks on the next.
fn key(picture: &mut Picture, map: &PanelMap, levels: &[(f64, Stroke)]) {
    let mut x = EDGE;
    let y = picture.height;
    for (odds, stroke) in levels {
        picture.path([(x, y), (x + SAMPLE, y)], *stroke);
        let wanted = if map.wants(*odds) { " wanted" } else { "" };
        let label = format!("{} %{wanted}", percent(*odds));
        x += SAMPLE + 16;
        let width = width_of(&label, TEXT);
        picture.text(Text::new((x, y), label, Align::Left));
        x += width + 50;
    }
    if !levels.is_empty() {
        picture.height += LINE;
    }
    let mut x = EDGE + RADIUS;
    let y = picture.height;
    let mut entry = |picture: &mut Picture, mark: Mark, what: &str, size: (f64, f64)| {
        mark.draw(picture, (x, y));
        let mut label = format!("{what} {} W", plain(size.0));
        if map.has_store() {
            label += &format!(", {} Wh", plain(size.1));
        }
        x += RADIUS + 16;
        let width = width_of(&label, TEXT);
        picture.text(Text::new((x, y), label, Align::Left));
        x += width + 60 + RADIUS;
    };
    if let Some(size) = chosen_size(map) {
        entry(picture, Mark::Chosen, "chosen", size);
    }
    if let Some(size) = map.own {
        entry(picture, Mark::Own, "in the line file", size);
    }
    if map.chosen.is_some() || map.own.is_some() {
        picture.height += LINE;
    }
}

fn chosen_size(map: &PanelMap) -> Option<(f64, f64)> {
    let (panel, store) = map.chosen?;
    Some((*map.panels_w.get(panel)?, *map.stores_wh.get(store)?))
}

/// Rounded down, so that a cell below a line never has the line's own figure.
fn percent(odds: f64) -> String {
    // Binary fractions lie a little beside: 0.29 is 28.999999999999996 %.
    format!("{:.0}", (100.0 * odds + 1e-9).floor())
}

/// Better odds are darker, none so dark that a line or a figure could not be read on it; a little blue.
fn shade(odds: f64) -> RGBColor {
    const DARKEST: f64 = 0xa4 as f64;
    // Between the two shades, so it fits.
    let grey = (255.0 - odds.clamp(0.0, 1.0) * (255.0 - DARKEST)).round() as u8;
    let blue = grey.saturating_add(12);
    RGBColor(grey.saturating_sub((255 - grey) / 8), grey, blue)
}

/// The cells with their figures, where there is room for them.
fn cells(picture: &mut Picture, grid: &Grid, map: &PanelMap) {
    let room = grid.x(1) - grid.x(0) >= width_of("100", TEXT) + 12;
    for store in 0..grid.up {
        for panel in 0..grid.across {
            let odds = map.at(panel, store);
            let corner = (grid.x(panel), grid.y(store + 1));
            let other = (grid.x(panel + 1), grid.y(store));
            picture.block(corner, other, shade(odds));
            if room {
                let at = (grid.middle(panel, store).0, corner.1 + FIGURE_DOWN);
                picture.text(Text::new(at, percent(odds), Align::Middle));
            }
        }
    }
}

/// Sizes and titles of both axes, as many as there is room for.
fn sides(picture: &mut Picture, grid: &Grid, map: &PanelMap) {
    let frame = &grid.frame;
    let labels: Vec<String> = map.panels_w.iter().map(|watts| plain(*watts)).collect();
    let widest = labels.iter().map(|label| width_of(label, TEXT)).max();
    let width = (grid.x(1) - grid.x(0)).max(1);
    let every = usize::try_from((widest.unwrap_or(0) + 16) / width + 1).unwrap_or(1);
    for (column, label) in labels.into_iter().enumerate().step_by(every) {
        let at = (grid.middle(column, 0).0, frame.bottom + 36);
        picture.text(Text::new(at, label, Align::Middle));
    }
    if map.has_store() {
        stores(picture, grid, map);
    }
    let middle = i32::midpoint(frame.left, frame.right);
    let at = (middle, frame.bottom + 36 + LINE);
    picture.text(Text::new(at, "panel, W", Align::Middle));
    picture.height = frame.bottom + 36 + 2 * LINE + LINE / 4;
}

/// The stores' sizes and their axis's title.
fn stores(picture: &mut Picture, grid: &Grid, map: &PanelMap) {
    let frame = &grid.frame;
    for (row, wh) in map.stores_wh.iter().enumerate() {
        let at = (frame.left - 14, grid.middle(0, row).1);
        let text = Text::new(at, plain(*wh), Align::Right);
        picture.text(text.within(frame.left - 14 - 2 * TEXT));
    }
    let at = (TEXT, frame.middle());
    picture.text(Text::new(at, "store, Wh", Align::Middle).upright());
}
