//! `embed`: a camera's season as bytes for a microcontroller, and what such bytes hold.

mod describe;
mod document;

use std::path::Path;

use overwinter_model::Weather;
use overwinter_model::blob::{self, BlobError, MOST_BYTES};
use overwinter_model::installation::{Air, Installation, MonthClearness, Sunlight};
use serde::Serialize;

pub use document::{
    ActivityDocument, AirDocument, BlobDocument, BlobPanel, BlobSeason, BurstsDocument,
    CellsDocument, CheckInDocument, DrawDocument, FeedsDocument, MonthDocument, PlaceDocument,
    UploadDocument,
};

use super::refused;
use crate::host::Files;
use crate::line::{Camera, Line};
use crate::problem::Failure;
use crate::shown;
use crate::source::read_bytes;

/// A file larger than this is no blob: what its length can say, and the envelope.
const LARGEST_FILE_BYTES: u64 = 66_000;

/// The answer.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Embedded {
    /// What a script reads.
    pub document: BlobDocument,
    /// All that the blob holds.
    pub holds: Installation,
    /// The blob, as it stands in a file.
    #[serde(skip)]
    pub bytes: Vec<u8>,
}

/// A blob and what it holds.
#[derive(Clone, Debug)]
pub struct Blob {
    bytes: Vec<u8>,
    holds: Installation,
}

impl Blob {
    /// The blob of a line's camera.
    ///
    /// # Errors
    /// [`Failure::Request`] if the line replays a year, or a value is beyond what a device takes.
    pub fn of(line: &Line, camera: &Camera) -> Result<Self, Failure> {
        let installation = installation(line, camera)?;
        let mut buffer = [0; MOST_BYTES];
        let bytes = blob::encode(&installation, &mut buffer).map_err(refused)?;
        Self::out_of(bytes.to_vec()).map_err(refused)
    }

    /// The blob in a file.
    ///
    /// # Errors
    /// [`Failure::Request`] if it cannot be read, or is no blob that this program reads.
    pub fn read(path: &Path, files: &dyn Files) -> Result<Self, Failure> {
        let bytes = read_bytes(files, path, "blob", LARGEST_FILE_BYTES)?;
        Self::out_of(bytes).map_err(|why| {
            Failure::request(format!("`{}`: {why}", shown::path(path)), advice(&why))
        })
    }

    fn out_of(bytes: Vec<u8>) -> Result<Self, BlobError> {
        let holds = blob::decode(&bytes)?;
        Ok(Self { bytes, holds })
    }

    /// The answer about it.
    #[must_use]
    pub fn answer(&self) -> Embedded {
        Embedded {
            document: describe::document(&self.bytes, &self.holds),
            holds: self.holds.clone(),
            bytes: self.bytes.clone(),
        }
    }

    /// Its bytes, as they stand in a file.
    #[must_use]
    pub fn bytes(&self) -> &[u8] {
        &self.bytes
    }
}

/// What to do about a file that is no usable blob.
fn advice(why: &BlobError) -> &'static str {
    match why {
        BlobError::Envelope(overwinter_model::EnvelopeError::OtherKind) => {
            "`overwinter embed LINE -o FILE` writes one"
        }
        _ => "write it again with `overwinter embed LINE -o FILE`",
    }
}

/// The one camera of a line that is to be written.
///
/// # Errors
/// [`Failure::Request`] if there are several.
pub fn only_camera(line: &Line) -> Result<&Camera, Failure> {
    match line.cameras.as_slice() {
        [camera] => Ok(camera),
        cameras => {
            let names: Vec<&str> = cameras.iter().map(|camera| camera.name.as_str()).collect();
            Err(Failure::request(
                format!("a blob holds one camera, and the line has {}", names.len()),
                format!("--camera NAME, one of: {}", names.join(", ")),
            ))
        }
    }
}

/// Everything that decides how long a camera of a line lasts.
fn installation(line: &Line, camera: &Camera) -> Result<Installation, Failure> {
    Ok(Installation {
        scenario: camera.scenario(&camera.pack).map_err(refused)?,
        place: line.place,
        air: air(line)?,
        sunlight: camera.panel.as_ref().map(|panel| Sunlight {
            mount: panel.mount(&camera.pack),
            elevation_m: line.elevation_m,
            clearness: clearness(line),
        }),
        activity: camera.activity.clone(),
        flash_below_sun_deg: camera.settings.flash_below_sun_deg,
        first_day: line.season.first_day(),
        days: u16::try_from(line.season.days()).map_err(refused)?,
    })
}

fn clearness(line: &Line) -> [MonthClearness; 12] {
    line.climate.spread().months().map(|month| MonthClearness {
        mean: month.clearness_mean,
        sd: month.clearness_sd,
    })
}

fn air(line: &Line) -> Result<Air, Failure> {
    match line.climate.weather() {
        Weather::Constant(air) => Ok(Air::Constant(air)),
        Weather::Normals(normals) => Ok(Air::Normals(normals.clone())),
        Weather::Hours(_) => Err(Failure::request(
            format!(
                "a blob has no room for a year by the hour: the line replays {}",
                line.climate.origin
            ),
            "weather_use = \"normals\" in [site] reduces the file to monthly normals",
        )),
    }
}
