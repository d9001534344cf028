//! A year of hours: a weather file, or one reduced to the columns that are used.

use std::fmt::Write as _;
use std::io::Read;
use std::path::{Path, PathBuf};

use flate2::read::GzDecoder;
use overwinter_line::weather::{WeatherHour, light_offset};
use overwinter_model::harvest::{Plane, SkyDay, split};
use overwinter_model::{HOURS_OF_YEAR, Place, Time};
use overwinter_tests::tables::{Table, file_name};

use super::{Sky, Split, days};
use crate::Sources;

/// What the name of a reduced file ends in.
const REDUCED: &str = "_hours.csv.gz";

/// Whether a file is a reduced year of hours.
pub(crate) fn is_hours(path: &Path) -> bool {
    file_name(path).ends_with(REDUCED)
}

/// A year of hours at its place.
pub(super) struct Year {
    pub(super) place: Place,
    pub(super) elevation_m: f64,
    pub(super) hours: Vec<WeatherHour>,
    pub(super) light_offset: Time,
}

impl Year {
    /// The climate's year, if there is a file of it.
    pub(super) fn find(climate: &str, sources: &Sources) -> Option<Self> {
        let (place, elevation_m, hours) = match sources.weather(climate) {
            Some(file) => (*file.place(), file.elevation_m(), file.hours().to_vec()),
            None => (
                sources.place(climate)?,
                sources.elevation_m(climate)?,
                reduced(climate, sources)?,
            ),
        };
        Some(Self {
            light_offset: light_offset(&place, &hours),
            place,
            elevation_m,
            hours,
        })
    }

    /// The same with the sun at the middle of each hour, whatever the light says.
    pub(super) fn at_mid_hour(self) -> Self {
        Self {
            light_offset: Time::ZERO,
            ..self
        }
    }

    /// Light on a plane by the hour, W/m2.
    pub(super) fn on_plane(&self, plane: &Plane, sky: Sky) -> Vec<f64> {
        let mut on_plane = Vec::with_capacity(HOURS_OF_YEAR);
        for (day, hours) in days().zip(self.hours.chunks(24)) {
            let suns = SkyDay::new(&self.place, day, self.elevation_m, self.light_offset);
            for (sun, hour) in suns.suns().iter().zip(hours) {
                let in_file = hour.light();
                let light = match sky.split {
                    Split::File => in_file,
                    Split::Erbs => split::erbs(in_file.global, sun),
                    Split::Disc => split::disc(in_file.global, sun),
                };
                let light = plane.light(sun, &light, sky.albedo, sky.model);
                on_plane.push(light.total().as_w_per_m2());
            }
        }
        on_plane
    }
}

/// The hours of `CLIMATE_hours.csv.gz` written out as a weather file, for the program to read.
pub(crate) fn as_epw(climate: &str, sources: &Sources) -> Option<PathBuf> {
    let (place, elevation_m) = (
        sources.listed_place(climate)?,
        sources.elevation_m(climate)?,
    );
    let hours = reduced(climate, sources)?;
    let mut text = format!(
        "LOCATION,{climate},-,-,-,-,{},{},{},{elevation_m}\nDATA PERIODS,1,1,Data,Friday,1/1,12/31\n",
        place.latitude_deg(),
        place.longitude_deg(),
        place.utc_offset().as_hours(),
    );
    for (day, hours) in days().zip(hours.chunks(24)) {
        let (month, day) = (day.date().month() as u8, day.date().day());
        for (ending, hour) in (1..).zip(hours) {
            let WeatherHour {
                air_c,
                ghi_w_per_m2: ghi,
                dni_w_per_m2: dni,
                dhi_w_per_m2: dhi,
            } = hour;
            writeln!(
                text,
                "2027,{month},{day},{ending},60,-,{air_c},-,-,-,-,-,-,{ghi},{dni},{dhi}"
            )
            .expect("a string takes all");
        }
    }
    let path = Path::new(env!("CARGO_TARGET_TMPDIR")).join(format!("{climate}.epw"));
    std::fs::write(&path, text).unwrap_or_else(|why| panic!("{}: {why}", path.display()));
    Some(path)
}

/// The hours of `CLIMATE_hours.csv.gz`.
fn reduced(climate: &str, sources: &Sources) -> Option<Vec<WeatherHour>> {
    let name = format!("{climate}{REDUCED}");
    let path = sources.files.iter().find(|path| file_name(path) == name)?;
    let mut text = Vec::new();
    let file = std::fs::File::open(path).expect("the file opens");
    GzDecoder::new(file)
        .read_to_end(&mut text)
        .unwrap_or_else(|why| panic!("{}: {why}", path.display()));
    let table = Table::of(path, csv::Reader::from_reader(text.as_slice()))?;
    let hours: Option<Vec<WeatherHour>> = table
        .rows
        .iter()
        .map(|row| {
            Some(WeatherHour {
                air_c: row.number("air_c")?,
                ghi_w_per_m2: row.number("ghi")?,
                dni_w_per_m2: row.number("dni")?,
                dhi_w_per_m2: row.number("dhi")?,
            })
        })
        .collect();
    hours.filter(|hours| hours.len() == HOURS_OF_YEAR)
}
