//! One camera's panel.

use overwinter_line::answer::forecast::CameraCourse;
use overwinter_line::line::Season;
use overwinter_model::Voltage;
use plotters::style::RGBColor;

use super::super::axis::{Frame, Scale, labelled, plain_volts};
use super::super::dates::DateAxis;
use super::super::picture::{
    Align, EDGE, INK, LINE, Picture, Point, SOFT, Stroke, TEXT, Text, WIDTH, width_of,
};
use super::expected::{LEFT, RIGHT, frame};
use super::{cells, ends, labels};

/// The charge is an area, so that it cannot be taken for the voltage's line.
pub(super) const CHARGE_FILL: RGBColor = RGBColor(0xc3, 0xd9, 0xe8);
pub(super) const CHARGE_LINE: Stroke = Stroke::solid(RGBColor(0x3d, 0x7e, 0xa6), 4);
const VOLTAGE_LINE: Stroke = Stroke::solid(INK, 5);
const LIMIT_LINE: Stroke = Stroke::solid(SOFT, 2).dashed(14, 8);

/// A day's lowest voltage is drawn this share of the scale below the lowest limit at most.
const BELOW_LIMITS: f64 = 0.15;

/// What the area and the line are.
pub(super) fn key(picture: &mut Picture, broken: bool) {
    let y = picture.height;
    let swatch = 70;
    picture.block((EDGE, y - 16), (EDGE + swatch, y + 18), CHARGE_FILL);
    picture.path([(EDGE, y - 16), (EDGE + swatch, y - 16)], CHARGE_LINE);
    let charge = "charge left";
    let x = EDGE + swatch + 16;
    picture.text(Text::new((x, y), charge, Align::Left));
    let x = x + width_of(charge, TEXT) + 60;
    picture.path([(x, y), (x + swatch, y)], VOLTAGE_LINE);
    let x = x + swatch + 16;
    let voltage = "lowest voltage of each day, under load";
    picture.text(Text::new((x, y), voltage, Align::Left));
    picture.height += LINE;
    if broken {
        let gap = "(no line: below the scale, or no load carried)";
        picture.text(Text::new((x, y + LINE), gap, Align::Left));
        picture.height += LINE;
    }
}

/// Draws a camera's panel below what is there.
pub(super) fn draw(
    picture: &mut Picture,
    season: &Season,
    dates: &DateAxis,
    camera: &CameraCourse,
    height: i32,
) {
    heading(picture, camera);
    let flags = ends::flags(season, dates, &camera.outcome);
    let rows = ends::rows_of(&flags);
    let frame = frame(picture.height + LINE * rows, height);
    let charge = frame.upward(0.0..1.0);
    let volts = frame.upward(volts_range(camera));
    let course = charge_course(dates, &charge, camera);
    fill_below(picture, &frame, &course);
    dates.grid(picture, &frame);
    frame.left_axis(picture, &frame.upward(0.0..100.0), "charge left, %");
    picture.path(course, CHARGE_LINE);
    limits(picture, &frame, &volts, camera);
    draw_voltage(picture, dates, &volts, camera);
    frame.border(picture);
    ends::draw(picture, &frame, &volts, &flags);
    picture.height = frame.bottom;
}

fn heading(picture: &mut Picture, camera: &CameraCourse) {
    let y = picture.height + LINE / 2;
    let pack = cells(&camera.set);
    let room = RIGHT - LEFT - width_of(&pack, TEXT) - 40;
    let name = Text::new((LEFT, y), camera.name.as_str(), Align::Left).bold();
    picture.text(name.within(room));
    picture.text(Text::new((RIGHT, y), pack, Align::Right));
    picture.height = y + LINE / 2;
}

/// The charge at the end of each day.
pub(super) fn charge_course(dates: &DateAxis, scale: &Scale, camera: &CameraCourse) -> Vec<Point> {
    let followed = camera.outcome.followed.as_days();
    let at_end_of = |day: usize| dates.scale.at((day as f64 + 1.0).min(followed));
    (0..)
        .zip(&camera.days)
        .map(|(day, trace)| (at_end_of(day), scale.at(trace.charge_left)))
        .collect()
}

fn fill_below(picture: &mut Picture, frame: &Frame, course: &[Point]) {
    if let (Some(first), Some(last)) = (course.first(), course.last()) {
        let ground = [(last.0, frame.bottom), (first.0, frame.bottom)];
        picture.area(course.iter().copied().chain(ground), CHARGE_FILL);
    }
}

/// Whether the voltage's line is broken anywhere.
pub(super) fn is_broken(camera: &CameraCourse) -> bool {
    let range = volts_range(camera);
    let on_scale = |volts: Voltage| range.contains(&volts.as_volts());
    camera.lowest().any(|lowest| !lowest.is_some_and(on_scale))
}

/// Day by day; broken where the pack could not carry what may have come, or only far below the
/// limits.
fn draw_voltage(picture: &mut Picture, dates: &DateAxis, scale: &Scale, camera: &CameraCourse) {
    let followed = camera.outcome.followed.as_days();
    let volts = camera.lowest();
    let volts: Vec<Option<f64>> = volts.map(|lowest| lowest.map(Voltage::as_volts)).collect();
    let in_sight = |day: Option<usize>| {
        let volts = day.and_then(|day| volts.get(day).copied().flatten());
        volts.is_some_and(|volts| scale.reaches(volts))
    };
    // A day below the scale is drawn at its edge if the line leads there or comes from there.
    let drawn =
        |day: usize| in_sight(Some(day)) || in_sight(day.checked_sub(1)) || in_sight(Some(day + 1));
    let days: Vec<(usize, Option<f64>)> = volts.iter().copied().enumerate().collect();
    for piece in days.split(|&(day, volts)| volts.is_none() || !drawn(day)) {
        let points = piece.iter().filter_map(|&(day, volts)| {
            let noon = (day as f64 + 0.5).min(followed);
            Some((dates.scale.at(noon), scale.at(volts?)))
        });
        picture.path(points, VOLTAGE_LINE);
    }
}

/// The camera's limits by name.
fn limits_of(camera: &CameraCourse) -> Vec<(&'static str, f64)> {
    let supply = &camera.supply;
    let mut limits = vec![("flash", supply.flash.as_volts())];
    if camera.has_modem {
        limits.push(("upload", supply.upload.as_volts()));
    }
    limits.push(("cut-off", supply.cut_off.as_volts()));
    limits
}

/// From below the lowest limit to above the nominal voltage, so that panels compare; further if
/// the voltage goes there.
fn volts_range(camera: &CameraCourse) -> std::ops::Range<f64> {
    let limits = limits_of(camera).into_iter().map(|(_, volts)| volts);
    let lowest = limits.clone().fold(f64::INFINITY, f64::min);
    let seen = camera.lowest().flatten();
    let highest = limits
        .chain(seen.map(Voltage::as_volts))
        .fold(camera.supply.nominal.as_volts(), f64::max);
    let span = (highest - lowest).max(0.1 * lowest);
    lowest - BELOW_LIMITS * span..highest + 0.06 * span
}

/// The limits with their names on the right, and round values where there is room between them.
fn limits(picture: &mut Picture, frame: &Frame, scale: &Scale, camera: &CameraCourse) {
    let limits = limits_of(camera);
    let wanted: Vec<i32> = limits.iter().map(|(_, volts)| scale.at(*volts)).collect();
    let places = labels::apart(&wanted, TEXT + 4, frame.top, frame.bottom);
    let mut widest = 0;
    for ((name, volts), (y, place)) in limits.iter().zip(wanted.iter().zip(&places)) {
        picture.path(frame.across(*y), LIMIT_LINE);
        picture.path([(RIGHT, *y), (RIGHT + 20, *place)], Stroke::solid(SOFT, 2));
        let label = format!("{name} {}", plain_volts(*volts));
        widest = widest.max(width_of(&label, TEXT));
        picture.text(Text::new((RIGHT + 26, *place), label, Align::Left));
    }
    for (volts, label) in labelled(&scale.ticks(TEXT * 3 / 2)) {
        let y = scale.at(volts);
        let free = places.iter().all(|place| (place - y).abs() >= TEXT);
        // At the very top it would meet the labels of ends.
        if free && y >= frame.top + TEXT / 2 {
            picture.path([(RIGHT, y), (RIGHT + 12, y)], Stroke::solid(SOFT, 2));
            let at = (RIGHT + 26, y);
            picture.text(Text::new(at, label, Align::Left).colour(SOFT));
        }
    }
    let right = WIDTH - EDGE - TEXT / 2;
    let at = ((RIGHT + 26 + widest + TEXT).min(right), frame.middle());
    picture.text(Text::new(at, "lowest voltage, V", Align::Middle).upright());
}
