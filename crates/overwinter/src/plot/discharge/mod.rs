//! Voltage against the charge that a cell has delivered.

mod trace;

use overwinter_model::{Charge, Voltage};
use plotters::style::RGBColor;

use super::axis::{Frame, Scale, THIN, labelled, plain_volts};
use super::fill::pale;
use super::labels::apart;
use super::picture::{
    Align, EDGE, INK, LINE, Picture, Point, SOFT, Stroke, TEXT, TITLE, Text, WIDTH, width_of,
};
use trace::Trace;

/// What to draw.
#[derive(Clone, Debug, PartialEq)]
pub struct Curves {
    /// Over the picture.
    pub title: String,
    /// The curves.
    pub curves: Vec<Curve>,
    /// Voltages to mark.
    pub limits: Vec<Limit>,
}

/// One discharge.
#[derive(Clone, Debug, PartialEq)]
pub struct Curve {
    /// What was discharged and how.
    pub label: String,
    /// Charge delivered so far and voltage under load.
    pub points: Vec<(Charge, Voltage)>,
}

/// A voltage to mark.
#[derive(Clone, Debug, PartialEq)]
pub struct Limit {
    /// What happens there.
    pub label: String,
    /// The voltage.
    pub at: Voltage,
}

const FRAME_HEIGHT: i32 = 860;
const LEFT: i32 = 176;

/// Curves differ in dashes and in lightness; hue only helps. From a palette for colour-blind
/// readers (Okabe and Ito, "Color Universal Design"), from memory, darkened for paper.
pub(super) const STROKES: [Stroke; 6] = [
    Stroke::solid(INK, 6),
    Stroke::solid(RGBColor(0x00, 0x5f, 0x9e), 6).dashed(36, 14),
    Stroke::solid(RGBColor(0xb0, 0x4a, 0x00), 6).dashed(12, 12),
    Stroke::solid(RGBColor(0x3f, 0x9a, 0xc9), 6),
    Stroke::solid(RGBColor(0x00, 0x7a, 0x5a), 6).dashed(60, 14),
    Stroke::solid(RGBColor(0x8a, 0x8a, 0x8a), 6).dashed(22, 22),
];

/// Discharge curves with the limits that they run down to; pulses too many to be told apart are a band
/// from the highest to the lowest voltage. Each curve carries a letter at its end, which the list
/// below the plot explains.
#[must_use]
pub fn discharge(curves: &Curves) -> Picture {
    let mut picture = Picture::new();
    let y = EDGE + TITLE / 2;
    let title = Text::title((EDGE, y), curves.title.as_str());
    picture.text(title.within(WIDTH - 2 * EDGE));
    let frame = frame(y + LINE, &curves.limits);
    let volts = frame.upward(volts_range(curves));
    let charge = frame.rightward(0.0..most_charge(curves) * 1.06);
    axes(&mut picture, &frame, &volts, &charge);
    limits(&mut picture, &frame, &volts, &curves.limits);
    let traces: Vec<Trace> = curves
        .curves
        .iter()
        .map(|curve| Trace::of(&path_of(curve, &charge, &volts)))
        .collect();
    draw(&mut picture, &traces);
    frame.border(&mut picture);
    letters_at_ends(&mut picture, &frame, &traces);
    picture.height = frame.bottom + 2 * LINE + 30;
    if traces.iter().any(|trace| trace.area() > 0) {
        let at = (LEFT, picture.height + LINE / 2);
        let note = "bands: from the highest to the lowest voltage under load, pulse by pulse";
        picture.text(Text::new(at, note, Align::Left));
        picture.height += LINE;
    }
    key(&mut picture, &curves.curves);
    picture.height += EDGE;
    picture
}

/// Names of limits to its right.
fn frame(top: i32, limits: &[Limit]) -> Frame {
    let names = limits.iter().map(|limit| width_of(&text_of(limit), TEXT));
    Frame {
        left: LEFT,
        top,
        right: WIDTH - EDGE - (names.max().unwrap_or(0) + 30).clamp(70, WIDTH / 3),
        bottom: top + FRAME_HEIGHT,
    }
}

fn most_charge(curves: &Curves) -> f64 {
    let points = curves.curves.iter().flat_map(|curve| &curve.points);
    points
        .map(|(charge, _)| charge.as_milliampere_hours())
        .fold(1.0, f64::max)
}

fn volts_range(curves: &Curves) -> std::ops::Range<f64> {
    let points = curves.curves.iter().flat_map(|curve| &curve.points);
    let volts = points
        .map(|(_, voltage)| voltage.as_volts())
        .chain(curves.limits.iter().map(|limit| limit.at.as_volts()));
    let lowest = volts.clone().fold(f64::INFINITY, f64::min);
    let highest = volts.fold(f64::NEG_INFINITY, f64::max);
    if lowest > highest {
        return 0.0..1.0;
    }
    let margin = 0.08 * (highest - lowest).max(0.1);
    // Below, letters stand at the curves' ends.
    lowest - 1.5 * margin..highest + margin
}

fn axes(picture: &mut Picture, frame: &Frame, volts: &Scale, charge: &Scale) {
    for (value, label) in labelled(&charge.ticks(200)) {
        let x = charge.at(value);
        picture.path(frame.down(x), THIN);
        picture.text(Text::new((x, frame.bottom + 36), label, Align::Middle));
    }
    frame.left_axis(picture, volts, "voltage, V");
    let middle = i32::midpoint(frame.left, frame.right);
    let at = (middle, frame.bottom + 36 + LINE);
    picture.text(Text::new(at, "delivered charge, mAh", Align::Middle));
}

fn text_of(limit: &Limit) -> String {
    format!("{} {}", limit.label, plain_volts(limit.at.as_volts()))
}

fn limits(picture: &mut Picture, frame: &Frame, volts: &Scale, limits: &[Limit]) {
    let wanted: Vec<i32> = limits.iter().map(|l| volts.at(l.at.as_volts())).collect();
    let places = apart(&wanted, TEXT, frame.top, frame.bottom);
    for (limit, (y, place)) in limits.iter().zip(wanted.iter().zip(places)) {
        picture.path(frame.across(*y), Stroke::solid(SOFT, 3).dashed(14, 8));
        picture.path(
            [(frame.right, *y), (frame.right + 16, place)],
            Stroke::solid(SOFT, 2),
        );
        let text = Text::new((frame.right + 22, place), text_of(limit), Align::Left);
        picture.text(text.within(WIDTH - EDGE - frame.right - 22));
    }
}

fn path_of(curve: &Curve, charge: &Scale, volts: &Scale) -> Vec<Point> {
    let points = curve.points.iter();
    points
        .map(|(delivered, voltage)| {
            let x = charge.at(delivered.as_milliampere_hours());
            (x, volts.at(voltage.as_volts()))
        })
        .collect()
}

/// Bands first, the larger ones behind, then the lines and the edges of bands over all of them: the
/// lowest voltage, which ends a test, as bold as a line.
fn draw(picture: &mut Picture, traces: &[Trace]) {
    let mut order: Vec<_> = traces.iter().zip(STROKES.iter().cycle()).collect();
    order.sort_by_key(|(trace, _)| -trace.area());
    for (trace, stroke) in &order {
        if let Trace::Band { highest, lowest } = trace {
            let around = highest.iter().chain(lowest.iter().rev());
            picture.area(around.copied(), pale(stroke.colour));
        }
    }
    for (trace, stroke) in traces.iter().zip(STROKES.iter().cycle()) {
        match trace {
            Trace::Line(points) => picture.path(points.iter().copied(), *stroke),
            Trace::Band { highest, lowest } => {
                let thin = Stroke {
                    width: 3,
                    ..*stroke
                };
                picture.path(highest.iter().copied(), thin);
                picture.path(lowest.iter().copied(), *stroke);
            }
        }
    }
}

/// Letters below the curves' ends, moved sideways where they would meet.
fn letters_at_ends(picture: &mut Picture, frame: &Frame, traces: &[Trace]) {
    let ends: Vec<(usize, Point)> = traces
        .iter()
        .enumerate()
        .filter_map(|(place, trace)| Some((place, trace.end()?)))
        .collect();
    let wanted: Vec<i32> = ends.iter().map(|(_, end)| end.0).collect();
    let places = apart(&wanted, TEXT, frame.left + TEXT, frame.right - TEXT / 2);
    for ((place, end), x) in ends.iter().zip(places) {
        let y = (end.1 + 40).min(frame.bottom - TEXT / 2);
        picture.path([*end, (x, y - TEXT / 2)], Stroke::solid(SOFT, 2));
        picture.text(Text::new((x, y), letter(*place), Align::Middle).bold());
    }
}

/// One line a curve: its stroke, letter, label and what it delivered.
fn key(picture: &mut Picture, curves: &[Curve]) {
    for ((place, curve), stroke) in curves.iter().enumerate().zip(STROKES.iter().cycle()) {
        let y = picture.height + LINE / 2;
        picture.path([(LEFT, y), (LEFT + 150, y)], *stroke);
        picture.text(Text::new((LEFT + 190, y), letter(place), Align::Middle).bold());
        let delivered = curve
            .points
            .last()
            .map_or(0.0, |(charge, _)| charge.as_milliampere_hours());
        let amount = format!("{delivered:.0} mAh delivered");
        let right = WIDTH - EDGE;
        let room = right - width_of(&amount, TEXT) - 40 - (LEFT + 230);
        let label = Text::new((LEFT + 230, y), curve.label.as_str(), Align::Left);
        picture.text(label.within(room));
        picture.text(Text::new((right, y), amount, Align::Right));
        picture.height += LINE;
    }
}

/// `A` to `Z`, then numbers.
pub(super) fn letter(place: usize) -> String {
    u8::try_from(place)
        .ok()
        .filter(|place| *place < 26)
        .map_or_else(
            || place.to_string(),
            |place| char::from(b'A' + place).to_string(),
        )
}
