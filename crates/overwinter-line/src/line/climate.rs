//! What the air does at a line's site: replayed hours, or normals out of one of four sources.

use std::ops::Range;
use std::path::Path;
use std::sync::Arc;

use overwinter_model::harvest::Light;
use overwinter_model::{
    Day, HourlyYear, Normals, Place, Spread, SpreadError, Temperature, Time, Weather,
};
use toml::Spanned;

use super::file::{SiteKeys, WeatherUse};
use super::normals;
use crate::host::Files;
use crate::keys::{Reader, escapes_in_path};
use crate::problem::Problem;
use crate::shown::visible;
use crate::weather::{self, AirNormals, FileDoubt, WeatherHour};

/// Where a line's temperatures come from, for a person.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum WeatherOrigin {
    /// A file's hours, replayed.
    FileHours(String),
    /// A file, reduced to normals.
    FileNormals(String),
    /// The line file's own normals.
    OwnNormals,
    /// A built-in climate: its name and source.
    BuiltIn {
        /// Name.
        name: String,
        /// Source.
        source: String,
    },
}

impl std::fmt::Display for WeatherOrigin {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Self::FileHours(file) => write!(f, "the hours of {file}"),
            Self::FileNormals(file) => write!(f, "monthly normals from {file}"),
            Self::OwnNormals => write!(f, "the line file's own monthly normals"),
            Self::BuiltIn { name, source } => write!(f, "built-in climate {name} ({source})"),
        }
    }
}

/// Air temperature over the year.
#[derive(Clone, Debug)]
pub struct Climate {
    kind: ClimateKind,
    spread: Spread,
    /// Where it comes from.
    pub origin: WeatherOrigin,
    /// Where it was measured; not told of the line file's own normals.
    pub station: Option<Station>,
    /// The months of its air, also where a file's hours are replayed.
    pub months: AirNormals,
    /// What can hardly be in the weather file that it comes from.
    pub doubts: Vec<FileDoubt>,
}

/// Where temperatures were measured.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Station {
    /// Degrees, north positive; of a climate that was shifted to the south negative.
    pub latitude_deg: f64,
    /// Metres above the sea.
    pub elevation_m: f64,
}

#[derive(Clone, Debug)]
enum ClimateKind {
    Normals(Box<Normals>),
    Hours(Arc<ReplayedYear>),
}

/// A file's year, hour by hour.
#[derive(Debug)]
struct ReplayedYear {
    air_c: Vec<f32>,
    light: Vec<Light>,
    light_offset: Time,
}

impl Climate {
    /// The line file's own normals.
    pub(super) fn own(months: AirNormals, normals: Box<Normals>, spread: Spread) -> Self {
        Self {
            kind: ClimateKind::Normals(normals),
            spread,
            origin: WeatherOrigin::OwnNormals,
            station: None,
            months,
            doubts: Vec::new(),
        }
    }

    /// For the model.
    #[must_use]
    pub fn weather(&self) -> Weather<'_> {
        match &self.kind {
            ClimateKind::Normals(normals) => Weather::Normals(normals),
            // Checked when it was read, so the fallback is never seen.
            ClimateKind::Hours(year) => HourlyYear::new(&year.air_c)
                .map_or(Weather::Constant(Temperature::REFERENCE), Weather::Hours),
        }
    }

    /// The light of each hour of a day, where a file's hours are replayed.
    #[must_use]
    pub fn replayed_light(&self, day: Day) -> Option<[Light; 24]> {
        let ClimateKind::Hours(year) = &self.kind else {
            return None;
        };
        let first = HourlyYear::first_hour(day);
        let hours = year.light.get(first..first + 24)?;
        hours.try_into().ok()
    }

    /// How much later than the middle of each hour the sun stands where the light comes from; zero but
    /// where a file's hours are replayed.
    #[must_use]
    pub fn light_offset(&self) -> Time {
        match &self.kind {
            ClimateKind::Normals(_) => Time::ZERO,
            ClimateKind::Hours(year) => year.light_offset,
        }
    }

    /// How far days and winters stray from [`Self::weather`]. Replayed hours are what they are: nothing
    /// strays from them, and only their mean clearness is told.
    #[must_use]
    pub fn spread(&self) -> &Spread {
        &self.spread
    }
}

/// The climate, and the place of its station if it comes from a file.
pub(super) fn read(
    reader: &mut Reader,
    keys: &SiteKeys,
    section: Range<usize>,
    files: &dyn Files,
    folder: &Path,
) -> Option<(Climate, Option<Place>)> {
    let names: Vec<String> = weather::climates()
        .into_iter()
        .map(|climate| climate.name)
        .collect();
    let given: Vec<Range<usize>> = ["weather", "climate", "normals"]
        .into_iter()
        .filter_map(|key| keys.place_of(key))
        .collect();
    match given.as_slice() {
        [_] => {}
        [] => {
            let problem = Problem::at(
                section,
                "the site has no source of temperatures",
                "expected `weather`, `climate` or [site.normals]",
            );
            reader.problem(problem.help(format!(
                "a weather file in EPW or TMY3 form (weather = \"file.epw\"), or a built-in \
                 climate: {}",
                names.join(", ")
            )));
            return None;
        }
        several => {
            let last = several.iter().max_by_key(|span| span.start);
            reader.problem(Problem::at(
                last.cloned().unwrap_or(section),
                "the site has several sources of temperatures",
                "expected only one of `weather`, `climate` and [site.normals]",
            ));
            return None;
        }
    }
    if let Some(file) = &keys.weather {
        let use_ = keys
            .weather_use
            .as_ref()
            .map_or(WeatherUse::default(), |use_| *use_.get_ref());
        return read_file(reader, file, use_, files, folder)
            .map(|(climate, place)| (climate, Some(place)));
    }
    if let Some(use_) = &keys.weather_use {
        reader.problem(Problem::at(
            use_.span(),
            "`weather_use` is given without a weather file",
            "expected `weather` beside it",
        ));
    }
    if let Some(name) = &keys.climate {
        return read_built_in(reader, name, &names).map(|climate| (climate, None));
    }
    let keys = keys.normals.as_ref()?;
    normals::read(reader, keys.get_ref(), keys.span()).map(|climate| (climate, None))
}

fn read_file(
    reader: &mut Reader,
    file: &Spanned<String>,
    use_: WeatherUse,
    files: &dyn Files,
    folder: &Path,
) -> Option<(Climate, Place)> {
    let path = folder.join(file.get_ref());
    let read = weather::read_weather_file(files, &path);
    let read = match read {
        Ok(read) => read,
        Err(why) => {
            let problem = Problem::at(
                file.span(),
                format!("{}: {}", why.place(), why.message()),
                format!("expected {}", why.expected()),
            );
            reader.problem(problem.help(escapes_in_path(file.get_ref())));
            return None;
        }
    };
    let name = visible(file.get_ref()).into_owned();
    let spread = model_spread(reader, read.spread(), file.span())?;
    let station = Some(Station {
        latitude_deg: read.place().latitude_deg(),
        elevation_m: read.elevation_m(),
    });
    let months = read.normals();
    let (kind, spread, origin) = match use_ {
        WeatherUse::Hours => {
            let year = ReplayedYear {
                air_c: read.air_hours(),
                light: read.hours().iter().map(WeatherHour::light).collect(),
                light_offset: read.light_offset(),
            };
            let kind = ClimateKind::Hours(Arc::new(year));
            (
                kind,
                spread.without_chance(),
                WeatherOrigin::FileHours(name),
            )
        }
        WeatherUse::Normals => {
            let kind = ClimateKind::Normals(model_normals(reader, &months, file.span())?);
            (kind, spread, WeatherOrigin::FileNormals(name))
        }
    };
    let climate = Climate {
        kind,
        spread,
        origin,
        station,
        months,
        doubts: read.doubts().to_vec(),
    };
    Some((climate, *read.place()))
}

pub(super) fn model_normals(
    reader: &mut Reader,
    normals: &AirNormals,
    span: Range<usize>,
) -> Option<Box<Normals>> {
    match normals.to_model() {
        Ok(normals) => Some(Box::new(normals)),
        Err(why) => {
            reader.problem(Problem::at(span, why.to_string(), "these temperatures"));
            None
        }
    }
}

pub(super) fn model_spread(
    reader: &mut Reader,
    spread: Result<Spread, SpreadError>,
    span: Range<usize>,
) -> Option<Spread> {
    match spread {
        Ok(spread) => Some(spread),
        Err(why) => {
            reader.problem(Problem::at(span, why.to_string(), "the spread of its days"));
            None
        }
    }
}

fn read_built_in(reader: &mut Reader, name: &Spanned<String>, names: &[String]) -> Option<Climate> {
    let Some(climate) = weather::climate(name.get_ref()) else {
        let names: Vec<&str> = names.iter().map(String::as_str).collect();
        let problem = Problem::at(
            name.span(),
            format!("there is no built-in climate \"{}\"", name.get_ref()),
            format!("expected one of: {}", names.join(", ")),
        );
        reader.problem(problem.did_you_mean(name.get_ref(), &names));
        return None;
    };
    let normals = model_normals(reader, &climate.air, name.span())?;
    let spread = model_spread(reader, climate.spread(), name.span())?;
    let source = climate.source.to_owned();
    Some(Climate {
        kind: ClimateKind::Normals(normals),
        spread,
        origin: WeatherOrigin::BuiltIn {
            name: climate.name,
            source,
        },
        station: Some(Station {
            latitude_deg: climate.latitude_deg,
            elevation_m: climate.elevation_m,
        }),
        months: climate.air,
        doubts: Vec::new(),
    })
}
