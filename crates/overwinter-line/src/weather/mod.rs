//! Weather files (EPW and TMY3) and built-in climates.
//!
//! A file gives a year of hours in local standard time. It can be replayed as it is
//! ([`WeatherFile::air_hours`]) or reduced to the twelve months that the model's expected path is made
//! from ([`WeatherFile::normals`]).

mod climates;
mod days;
mod doubt;
mod epw;
mod error;
mod light_offset;
mod reduce;
mod smooth;
mod table;
#[cfg(test)]
mod tests;
mod tmy3;
mod usual;
mod year;

use std::ops::RangeInclusive;
use std::path::Path;

use overwinter_model::harvest::Light;
use overwinter_model::{Day, Irradiance, Place, Spread, SpreadError, Time};

use crate::host::{Files, Unread};
use crate::source;

pub use climates::{Climate, climate, climates};
pub use days::DayStatistics;
pub use doubt::FileDoubt;
pub use error::WeatherFileError;
pub use light_offset::light_offset;
pub use reduce::{AirNormals, MonthAir};
pub use usual::KnownSpread;
pub(crate) use year::{FROM_FAHRENHEIT, FROM_KELVIN, KELVIN};

use table::{Fields, LONGEST_LINE_BYTES};
use year::Year;

/// Files beyond this are refused unread. A year of hours has 2 MB.
const LARGEST_FILE_BYTES: u64 = 64_000_000;

/// What to say when a file is something else.
const EXPECTED: &str = "an EPW file (first line starts with `LOCATION,`) or a TMY3 file (second line \
     names columns such as `Dry-bulb (C)`)";

/// One hour of a weather file.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct WeatherHour {
    /// Air temperature, degrees Celsius.
    pub air_c: f64,
    /// Global light on the horizontal, W/m2, zero or more.
    pub ghi_w_per_m2: f64,
    /// Direct light on a plane that faces the sun, W/m2, zero or more.
    pub dni_w_per_m2: f64,
    /// Diffuse light on the horizontal, W/m2, zero or more.
    pub dhi_w_per_m2: f64,
}

impl WeatherHour {
    /// Its light, for the model.
    #[must_use]
    pub fn light(&self) -> Light {
        Light {
            global: Irradiance::from_w_per_m2(self.ghi_w_per_m2),
            beam: Irradiance::from_w_per_m2(self.dni_w_per_m2),
            diffuse: Irradiance::from_w_per_m2(self.dhi_w_per_m2),
        }
    }
}

/// 2027-01-01, of a year without a leap day, as weather files have none. The sun of another year is at most a
/// quarter of a day's way off, 0.1 degrees.
const NEW_YEAR: Day = Day::from_days_since_2000(9862);

/// Air temperatures that are believed, degrees Celsius: some kelvin beyond the records of any station (-89.2
/// and 56.7, WMO).
pub const BELIEVED_C: RangeInclusive<f64> = -90.0..=60.0;

/// Heights above the sea that a place on earth has, metres: the shore of the Dead Sea to the highest
/// summit (8849 m).
pub const HEIGHTS_M: RangeInclusive<f64> = -440.0..=8_850.0;

/// Refuses a station's height that no place has: a code for "unknown", or feet.
fn check_height(
    fields: &Fields<'_>,
    column: usize,
    elevation_m: f64,
) -> Result<(), WeatherFileError> {
    if HEIGHTS_M.contains(&elevation_m) {
        return Ok(());
    }
    let message = format!("the station stands {elevation_m} m above the sea, as no place does");
    let expected = "elevation in metres, -440 to 8850; write the station's own, or 0";
    Err(fields.error(column, message, expected))
}

/// What a file says about its station.
#[derive(Clone, Copy)]
struct Header {
    place: Place,
    elevation_m: f64,
}

/// A year of hours at a place, complete and in order, without a leap day.
#[derive(Clone, Debug, PartialEq)]
pub struct WeatherFile {
    place: Place,
    elevation_m: f64,
    light_offset: Time,
    doubts: Vec<FileDoubt>,
    hours: Vec<WeatherHour>,
}

impl WeatherFile {
    fn new(header: Header, year: Year) -> Self {
        let Year { hours, dew_points } = year;
        let light_offset = light_offset(&header.place, &hours);
        let light = doubt::light(&header.place, &hours, light_offset);
        Self {
            place: header.place,
            elevation_m: header.elevation_m,
            light_offset,
            doubts: dew_points.doubt().into_iter().chain(light).collect(),
            hours,
        }
    }

    /// What can be read in it and can hardly be.
    #[must_use]
    pub fn doubts(&self) -> &[FileDoubt] {
        &self.doubts
    }

    /// Where the station stands, and the standard time that the hours are in.
    #[must_use]
    pub fn place(&self) -> &Place {
        &self.place
    }

    /// Height of the station above the sea, metres.
    #[must_use]
    pub fn elevation_m(&self) -> f64 {
        self.elevation_m
    }

    /// The 8760 hours, the first from 0:00 to 1:00 on 1 January.
    #[must_use]
    pub fn hours(&self) -> &[WeatherHour] {
        &self.hours
    }

    /// Air temperature of the 8760 hours in degrees Celsius, as
    /// [`HourlyYear`](overwinter_model::HourlyYear) takes them.
    #[must_use]
    pub fn air_hours(&self) -> Vec<f32> {
        self.hours.iter().map(|hour| hour.air_c as f32).collect()
    }

    /// How much later than the middle of each hour the sun stands where the hour's light comes from:
    /// see [`light_offset()`]. Whoever works with the light takes the sun so much later.
    #[must_use]
    pub fn light_offset(&self) -> Time {
        self.light_offset
    }

    /// The twelve months of air temperature.
    #[must_use]
    pub fn normals(&self) -> AirNormals {
        AirNormals::of_year(&self.hours)
    }

    /// Statistics of the file's own days in the months with these indices, 0 for January, taken
    /// together; as they are, sampling error and all.
    #[must_use]
    pub fn day_statistics(&self, months: &[usize]) -> DayStatistics {
        self.days().statistics(months)
    }

    /// What paths are drawn from: the statistics of the file's days, smoothed over the year and with
    /// the bias of single months undone.
    ///
    /// # Errors
    /// [`SpreadError`] if the days stray further than a [`Spread`] allows.
    pub fn spread(&self) -> Result<Spread, SpreadError> {
        smooth::spread(&self.normals(), &self.days())
    }

    fn days(&self) -> days::YearDays {
        days::YearDays::new(&self.place, &self.hours, self.light_offset)
    }
}

/// Reads an EPW or TMY3 file; its content decides which, not its name.
///
/// Missing temperatures and light are filled by straight lines over up to six hours; the leap day of a
/// file with 8784 hours is dropped; the years in the stamps are not looked at, since each month of a
/// typical year may come from another.
///
/// # Errors
/// [`WeatherFileError`] with line and column where known: if the file cannot be read, is larger than
/// 64 MB, is no weather file, lacks hours or has them out of order, has a line of more than 8 kB, or
/// holds a value that is not a number or beyond belief.
pub fn read_weather_file(
    files: &dyn Files,
    path: impl AsRef<Path>,
) -> Result<WeatherFile, WeatherFileError> {
    let path = path.as_ref();
    read_bytes(files, path)
        .and_then(|bytes| parse(&bytes))
        .map_err(|error| error.in_file(path))
}

fn read_bytes(files: &dyn Files, path: &Path) -> Result<Vec<u8>, WeatherFileError> {
    files.read(path, LARGEST_FILE_BYTES).map_err(|why| {
        let message = match why {
            Unread::Because(why) => format!("the file cannot be read: {why}"),
            Unread::Folder => "the file cannot be read: it is a folder".to_owned(),
            Unread::TooLarge => "the file is larger than 64 MB".to_owned(),
        };
        WeatherFileError::new(message, EXPECTED)
    })
}

fn parse(bytes: &[u8]) -> Result<WeatherFile, WeatherFileError> {
    let bytes = bytes.strip_prefix(b"\xef\xbb\xbf").unwrap_or(bytes);
    let mut lines = bytes.split(|byte| *byte == b'\n').map(|line| {
        let start = &line[..line.len().min(LONGEST_LINE_BYTES)];
        start.to_ascii_lowercase()
    });
    let first = lines.next().unwrap_or_default();
    let second = lines.next().unwrap_or_default();
    if first.starts_with(b"location,") {
        return epw::read(bytes);
    }
    if second.windows(9).any(|window| window == b"dry-bulb ") {
        return tmy3::read(bytes);
    }
    Err(WeatherFileError::new(what_it_is_instead(bytes), EXPECTED))
}

/// A guess that helps: the file was picked by mistake, or a download went wrong.
fn what_it_is_instead(bytes: &[u8]) -> &'static str {
    if bytes.trim_ascii().is_empty() {
        "the file is empty"
    } else if bytes.starts_with(b"PK") {
        "this is a zip archive; unpack it first"
    } else if source::is_utf16(bytes) {
        "the file is UTF-16; save it as UTF-8 in a text editor"
    } else if bytes.contains(&0) {
        "this is a binary file, not a weather file"
    } else if bytes.trim_ascii_start().starts_with(b"<") {
        "this is a web page or XML, not a weather file"
    } else {
        "this is not a weather file"
    }
}
