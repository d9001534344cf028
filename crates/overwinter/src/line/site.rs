//! Where the line stands, what the air does there, from when to when, and what cells cost.

use std::ops::Range;
use std::path::Path;

use overwinter_model::{
    HourlyYear, Normals, Place, PlaceError, Spread, SpreadError, Temperature, Weather,
};
use time::{Date, Month};
use toml::Spanned;
use toml::value::Datetime;

use super::file::{PriceKeys, SeasonKeys, SiteKeys, WeatherUse};
use super::own_cells::OwnCells;
use super::{LONGEST_SEASON_DAYS, Line, Prices, Season, normals};
use crate::keys::Reader;
use crate::problem::Problem;
use crate::weather;

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
}

#[derive(Clone, Debug)]
enum ClimateKind {
    Normals(Box<Normals>),
    Hours(Vec<f32>),
}

impl Climate {
    /// The line file's own normals.
    pub(super) fn own(normals: Box<Normals>, spread: Spread) -> Self {
        Self {
            kind: ClimateKind::Normals(normals),
            spread,
            origin: WeatherOrigin::OwnNormals,
        }
    }

    /// For the model.
    #[must_use]
    pub fn weather(&self) -> Weather<'_> {
        match &self.kind {
            ClimateKind::Normals(normals) => Weather::Normals(normals),
            // Checked when it was read, so the fallback is never seen.
            ClimateKind::Hours(hours) => HourlyYear::new(hours)
                .map_or(Weather::Constant(Temperature::REFERENCE), Weather::Hours),
        }
    }

    /// How far days and winters stray from [`Self::weather`]. Replayed hours are what they are: nothing
    /// strays from them, and only their mean clearness is told.
    #[must_use]
    pub fn spread(&self) -> &Spread {
        &self.spread
    }
}

/// What `[site]` says.
pub(super) struct Site {
    pub(super) name: String,
    pub(super) place: Place,
    pub(super) climate: Climate,
}

impl Site {
    /// The site of a line.
    pub(super) fn of(line: &Line) -> Self {
        Self {
            name: line.site.clone(),
            place: line.place,
            climate: line.climate.clone(),
        }
    }
}

/// Reads `[site]`, and the weather file that it names from `folder`.
pub(super) fn read(reader: &mut Reader, keys: &Spanned<SiteKeys>, folder: &Path) -> Option<Site> {
    let section = keys.span();
    let keys = keys.get_ref();
    let (climate, station) = read_climate(reader, keys, section.clone(), folder)?;
    let place = read_place(reader, keys, section, station.as_ref())?;
    let name = keys.name.as_ref().map_or("the line", |name| name.get_ref());
    Some(Site {
        name: name.to_owned(),
        place,
        climate,
    })
}

fn read_place(
    reader: &mut Reader,
    keys: &SiteKeys,
    section: Range<usize>,
    station: Option<&Place>,
) -> Option<Place> {
    let mut coordinate = |given: Option<&Spanned<f64>>, key: &str, of_station: Option<f64>| {
        given
            .map(|given| *given.get_ref())
            .or(of_station)
            .or_else(|| {
                let help =
                    "a place has latitude_deg, longitude_deg and utc_offset_h (standard time)";
                reader.required::<f64>(None, key, section.clone(), help)
            })
    };
    let latitude = coordinate(
        keys.latitude_deg.as_ref(),
        "latitude_deg",
        station.map(Place::latitude_deg),
    );
    let longitude = coordinate(
        keys.longitude_deg.as_ref(),
        "longitude_deg",
        station.map(Place::longitude_deg),
    );
    let offset = coordinate(
        keys.utc_offset_h.as_ref(),
        "utc_offset_h",
        station.map(|place| place.utc_offset().as_hours()),
    );
    match Place::new(latitude?, longitude?, offset?) {
        Ok(place) => Some(place),
        Err(why) => {
            let (key, label) = match why {
                PlaceError::Longitude(_) => ("longitude_deg", "expected -180 to 180"),
                PlaceError::UtcOffset(_) => ("utc_offset_h", "expected -12 to 14"),
                _ => ("latitude_deg", "expected -90 to 90"),
            };
            let span = keys.place_of(key).unwrap_or(section);
            reader.problem(Problem::at(span, why.to_string(), label));
            None
        }
    }
}

/// The climate, and the station's place if it comes from a file.
fn read_climate(
    reader: &mut Reader,
    keys: &SiteKeys,
    section: Range<usize>,
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
        return read_file(reader, file, use_, folder)
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
    folder: &Path,
) -> Option<(Climate, Place)> {
    let path = folder.join(file.get_ref());
    let read = weather::read_weather_file(&path);
    let read = match read {
        Ok(read) => read,
        Err(why) => {
            let problem = Problem::at(
                file.span(),
                format!("{}: {}", why.place(), why.message()),
                format!("expected {}", why.expected()),
            );
            reader.problem(problem.help("the path is taken from the line file's folder"));
            return None;
        }
    };
    let name = file.get_ref().clone();
    let spread = model_spread(reader, read.spread(), file.span())?;
    let climate = match use_ {
        WeatherUse::Hours => Climate {
            kind: ClimateKind::Hours(read.air_hours()),
            spread: spread.without_chance(),
            origin: WeatherOrigin::FileHours(name),
        },
        WeatherUse::Normals => Climate {
            kind: ClimateKind::Normals(model_normals(reader, &read.normals(), file.span())?),
            spread,
            origin: WeatherOrigin::FileNormals(name),
        },
    };
    Some((climate, *read.place()))
}

pub(super) fn model_normals(
    reader: &mut Reader,
    normals: &weather::AirNormals,
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
    })
}

/// Reads `[season]`.
pub(super) fn read_season(reader: &mut Reader, keys: &Spanned<SeasonKeys>) -> Option<Season> {
    let section = keys.span();
    let keys = keys.get_ref();
    let start = read_date(reader, keys.start.as_ref(), "start", section.clone());
    let end = read_date(reader, keys.end.as_ref(), "end", section.clone());
    let season = Season {
        start: start?,
        end: end?,
    };
    let span = keys.place_of("end").unwrap_or(section);
    if season.days() < 1 {
        reader.problem(Problem::at(
            span,
            format!(
                "the season ends on {} before it starts on {}",
                season.end, season.start
            ),
            "expected a later day",
        ));
        return None;
    }
    if season.days() > LONGEST_SEASON_DAYS {
        reader.problem(Problem::at(
            span,
            format!("the season has {} days", season.days()),
            format!("expected at most {LONGEST_SEASON_DAYS}"),
        ));
        return None;
    }
    Some(season)
}

fn read_date(
    reader: &mut Reader,
    given: Option<&Spanned<Datetime>>,
    key: &str,
    section: Range<usize>,
) -> Option<Date> {
    let help = "a date without quotes, for example 2026-11-01";
    let value = reader.required(given, key, section.clone(), help)?;
    let date = value
        .date
        .filter(|_| value.time.is_none())
        .and_then(|date| {
            let month = Month::try_from(date.month).ok()?;
            Date::from_calendar_date(i32::from(date.year), month, date.day).ok()
        });
    let in_range = date.filter(|date| (1950..=2100).contains(&date.year()));
    if in_range.is_none() {
        let span = given.map_or(section, Spanned::span);
        let problem = Problem::at(
            span,
            format!("`{key}` is not a day"),
            "expected a date between 1950 and 2100",
        );
        reader.problem(problem.help(help));
    }
    in_range
}

/// Reads `[prices]`.
pub(super) fn read_prices(reader: &mut Reader, keys: &PriceKeys, own: &OwnCells) -> Prices {
    let mut prices = Prices {
        currency: keys
            .currency
            .as_ref()
            .map_or_else(String::new, |c| c.get_ref().clone()),
        per_cell: Vec::new(),
        per_visit: keys
            .visit
            .as_ref()
            .map(|visit| reader.number(Some(visit), "visit", 0.0..=100_000.0, 0.0)),
    };
    for (name, price) in &keys.cell {
        let price = reader.number(Some(price), name.get_ref(), 0.0..=100_000.0, 0.0);
        if let Some(cell) = own.find(reader, name) {
            prices.per_cell.push((cell.name.clone(), price));
        }
    }
    prices
}
