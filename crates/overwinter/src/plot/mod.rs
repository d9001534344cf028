//! Pictures of answers: a season's course, cells compared, days over a sweep, discharge curves, the sun's
//! paths, panels and stores.
//!
//! A [`Picture`] is a list of lines, areas and texts at their places; [`write()`] turns it into SVG
//! or PNG. It is laid out for a page 1800 units wide whose letters can still be read when a phone
//! shows it 390 pixels wide, and nothing in it is told apart by hue alone.

mod axis;
mod budget;
mod compare;
mod course;
mod dates;
mod discharge;
mod fill;
mod forecast;
mod grid;
mod labels;
mod letters;
mod picture;
mod render;
mod revisit;
mod solar;
mod sun;
mod sweep;
#[cfg(test)]
mod tests;

use std::path::Path;

pub use budget::{Budget, CameraBudget, budget};
pub use compare::{CameraDays, CellDays, Comparison, compare};
pub use discharge::{Curve, Curves, Limit, discharge};
pub use forecast::forecast;
pub use picture::Picture;
pub use revisit::{RiskCurve, Risks, revisit};
pub use solar::{CameraSolar, PanelMap, Solar, Week, WeekEnergy, solar};
pub use sun::sun;
pub use sweep::{Swept, SweptAxis, SweptCamera, SweptPoint, sweep};

use crate::output::write_whole;
use crate::problem::Failure;

/// The most cameras in one picture; more would be too long to read.
const MOST_CAMERAS: usize = 12;

/// What a picture can be written as.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Format {
    Svg,
    Png,
}

/// Checks that a picture can be written under this name, before anything is computed for it.
///
/// # Errors
/// [`Failure::Request`] if the name ends in neither `.svg` nor `.png`, in capitals or not.
pub fn check_path(path: &Path) -> Result<(), Failure> {
    format_of(path).map(|_| ())
}

/// Writes a picture in the format that its name's ending asks for, and says on standard error which
/// names a PNG has no letters for.
///
/// The same picture gives the same bytes on every run.
///
/// # Errors
/// As [`check_path`]; [`Failure::Run`] if the file cannot be written.
pub fn write(path: &Path, picture: &Picture) -> Result<(), Failure> {
    let format = format_of(path)?;
    let bytes = match format {
        Format::Svg => render::svg(picture)?.into_bytes(),
        Format::Png => render::png(picture)?,
    };
    write_whole(path, &bytes)?;
    if format == Format::Png {
        letters::warn_of_lacking(picture);
    }
    Ok(())
}

fn format_of(path: &Path) -> Result<Format, Failure> {
    let ending = path.extension().unwrap_or_default();
    if ending.eq_ignore_ascii_case("svg") {
        Ok(Format::Svg)
    } else if ending.eq_ignore_ascii_case("png") {
        Ok(Format::Png)
    } else {
        Err(Failure::request(
            format!("`{}` is not a name for a picture", path.display()),
            "end it in .svg (drawing) or .png (pixels)",
        ))
    }
}
