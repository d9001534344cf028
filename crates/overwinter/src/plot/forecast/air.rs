//! The temperature of the air below the cameras.

use overwinter_model::Temperature;
use plotters::style::RGBColor;

use super::super::axis::{Frame, Scale};
use super::super::dates::DateAxis;
use super::super::labels::apart;
use super::super::picture::{Align, INK, Picture, SOFT, Stroke, TEXT, Text};

const MEAN: Stroke = Stroke::solid(INK, 6);
const LOWEST: Stroke = Stroke::solid(RGBColor(0x70, 0x70, 0x70), 3);

/// Draws the panel, its courses named on the right of the frame.
pub(super) fn draw(
    picture: &mut Picture,
    air: &[(Temperature, Temperature)],
    dates: &DateAxis,
    frame: &Frame,
) {
    let days = days_of(air);
    let scale = frame.upward(range_of(&days));
    dates.grid(picture, frame);
    frame.left_values(picture, &scale);
    picture.path(frame.across(scale.at(0.0)), Stroke::solid(SOFT, 3));
    let courses: [(&str, Stroke, Vec<f64>); 2] = [
        ("daily mean", MEAN, days.iter().map(|day| day.0).collect()),
        ("lowest", LOWEST, days.iter().map(|day| day.1).collect()),
    ];
    let wanted = courses
        .each_ref()
        .map(|(_, _, course)| end_of(&scale, course));
    let places = apart(&wanted, TEXT, frame.top, frame.bottom);
    for ((name, stroke, course), place) in courses.iter().zip(places) {
        let noons = (0..).map(|day| dates.scale.at(f64::from(day) + 0.5));
        let heights = course.iter().map(|celsius| scale.at(*celsius));
        picture.path(noons.zip(heights), *stroke);
        let at = (frame.right + 16, place);
        picture.text(Text::new(at, *name, Align::Left));
    }
    frame.border(picture);
}

fn end_of(scale: &Scale, course: &[f64]) -> i32 {
    course.last().map_or(0, |celsius| scale.at(*celsius))
}

/// Mean and lowest temperature of each day of the season, °C.
fn days_of(air: &[(Temperature, Temperature)]) -> Vec<(f64, f64)> {
    air.iter()
        .map(|(mean, lowest)| (mean.as_celsius(), lowest.as_celsius()))
        .collect()
}

/// A little more than what is drawn, with freezing always in it.
fn range_of(days: &[(f64, f64)]) -> std::ops::Range<f64> {
    let lowest = days.iter().map(|day| day.1).fold(0.0, f64::min);
    let highest = days.iter().map(|day| day.0).fold(0.0, f64::max);
    let margin = (0.08 * (highest - lowest)).max(2.0);
    lowest - margin..highest + margin
}
