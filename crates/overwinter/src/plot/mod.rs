//! Pictures of answers: a season's course, cells compared, days over a sweep, discharge curves, the sun's
//! paths, panels and stores.
//!
//! A [`Picture`] is a list of lines, areas and texts at their places; [`PictureFile`] turns it into SVG
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

use crate::output::{Kind, Output};
use overwinter_line::problem::Failure;
use overwinter_line::shown;

/// The most cameras in one picture; more would be too long to read.
pub const MOST_CAMERAS: usize = 12;

/// What a picture can be written as.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Format {
    Svg,
    Png,
}

const SVG: Kind = Kind {
    what: "a picture (SVG) that this program wrote",
    wrote: render::is_own_svg,
};

const PNG: Kind = Kind {
    what: "a picture (PNG) that this program wrote",
    wrote: render::is_own_png,
};

/// The file of a picture.
#[derive(Clone, Debug)]
pub struct PictureFile {
    output: Output,
    format: Format,
}

impl PictureFile {
    /// A picture under a name whose ending asks for its format; `force` replaces whatever file is there.
    ///
    /// # Errors
    /// [`Failure::Request`] if the name ends in neither `.svg` nor `.png`, in capitals or not.
    pub fn new(path: &Path, force: bool) -> Result<Self, Failure> {
        let format = format_of(path)?;
        let kind = match format {
            Format::Svg => SVG,
            Format::Png => PNG,
        };
        Ok(Self {
            output: Output::new(path, kind, force),
            format,
        })
    }

    /// The file.
    #[must_use]
    pub fn output(&self) -> &Output {
        &self.output
    }

    /// Whether it may be written, as far as that shows beforehand.
    ///
    /// # Errors
    /// As [`Output::check`].
    pub fn check(&self) -> Result<(), Failure> {
        self.output.check()
    }

    /// Writes a picture, and says on standard error which names a PNG has no letters for. The same picture
    /// gives the same bytes on every run.
    ///
    /// # Errors
    /// As [`Output::write`].
    pub fn write(&self, picture: &Picture) -> Result<(), Failure> {
        let bytes = match self.format {
            Format::Svg => render::svg(picture)?.into_bytes(),
            Format::Png => render::png(picture)?,
        };
        self.output.write(&bytes)?;
        if self.format == Format::Png {
            letters::warn_of_lacking(picture);
        }
        Ok(())
    }
}

fn format_of(path: &Path) -> Result<Format, Failure> {
    let ending = path.extension().unwrap_or_default();
    if ending.eq_ignore_ascii_case("svg") {
        Ok(Format::Svg)
    } else if ending.eq_ignore_ascii_case("png") {
        Ok(Format::Png)
    } else {
        Err(Failure::request(
            format!("`{}` is not a name for a picture", shown::path(path)),
            "end it in .svg (drawing) or .png (pixels)",
        ))
    }
}
