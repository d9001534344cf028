//! Where the line stands, from when to when, and what cells and panels cost.

use std::ops::Range;
use std::path::Path;

use overwinter_model::harvest::Ground;
use overwinter_model::{Place, PlaceError};
use time::{Date, Month};
use toml::Spanned;
use toml::value::Datetime;

use super::cell_files::CellFiles;
use super::climate::{self, Climate};
use super::file::{PriceKeys, SeasonKeys, SiteKeys};
use super::panel::Standing;
use super::{LONGEST_SEASON_DAYS, Line, Origin, Prices, Season};
use crate::host::Files;
use crate::keys::Reader;
use crate::problem::Problem;
use crate::weather::HEIGHTS_M;

/// The longest name of a site, characters: a line of a wide picture.
const LONGEST_SITE: usize = 100;

/// The longest name of a currency, characters.
const LONGEST_CURRENCY: usize = 12;

/// What `[site]` says.
pub(super) struct Site {
    pub(super) name: String,
    pub(super) place: Place,
    pub(super) elevation_m: f64,
    pub(super) elevation_origin: Origin,
    pub(super) snow_by_month: [f64; 12],
    pub(super) climate: Climate,
}

impl Site {
    /// The site of a line.
    pub(super) fn of(line: &Line) -> Self {
        Self {
            name: line.site.clone(),
            place: line.place,
            elevation_m: line.elevation_m,
            elevation_origin: line.elevation_origin,
            snow_by_month: line.snow_by_month,
            climate: line.climate.clone(),
        }
    }
}

/// Reads `[site]`, and the weather file that it names from `folder`.
pub(super) fn read(
    reader: &mut Reader,
    keys: &Spanned<SiteKeys>,
    files: &dyn Files,
    folder: &Path,
) -> Option<Site> {
    let section = keys.span();
    let keys = keys.get_ref();
    let (climate, of_file) = climate::read(reader, keys, section.clone(), files, folder)?;
    let place = read_place(reader, keys, section, of_file.as_ref())?;
    // A built-in climate goes with sites of any height.
    let station = climate.station.filter(|_| of_file.is_some());
    let of_station = station.map_or(0.0, |station| station.elevation_m);
    let elevation = keys.elevation_m.as_ref();
    let elevation_m = reader.number(elevation, "elevation_m", HEIGHTS_M, of_station);
    let snow = keys
        .snow_cover_pct
        .as_ref()
        .map_or(Some([0.0; 12]), |given| {
            reader.numbers::<12>(given, "snow_cover_pct", 0.0..=100.0)
        })?;
    let name = keys.name.as_ref();
    let name = name.map_or_else(
        || "the line".to_owned(),
        |name| reader.printed(name, "name", LONGEST_SITE),
    );
    Some(Site {
        name,
        place,
        elevation_m,
        elevation_origin: elevation.map_or(Origin::Usual, |_| Origin::Given),
        snow_by_month: snow.map(|pct| pct / 100.0),
        climate,
    })
}

/// What the cameras' panels need of a site. Without a site nothing is run, so anything goes.
pub(super) fn standing(site: Option<&Site>) -> Standing {
    Standing {
        latitude_deg: site.map_or(0.0, |site| site.place.latitude_deg()),
        ground: Ground::with_snow(site.map_or([0.0; 12], |site| site.snow_by_month)),
    }
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
pub(super) fn read_prices(reader: &mut Reader, keys: &PriceKeys, own: &CellFiles) -> Prices {
    let currency = keys.currency.as_ref();
    let currency = currency.map_or_else(String::new, |currency| {
        reader.printed(currency, "currency", LONGEST_CURRENCY)
    });
    let mut price = |given: Option<&Spanned<f64>>, key: &str| {
        given.map(|given| reader.number(Some(given), key, 0.0..=100_000.0, 0.0))
    };
    let mut prices = Prices {
        currency,
        per_cell: Vec::new(),
        per_visit: price(keys.visit.as_ref(), "visit"),
        per_panel_watt: price(keys.panel_per_w.as_ref(), "panel_per_w"),
        per_store_wh: price(keys.store_per_wh.as_ref(), "store_per_wh"),
    };
    for (name, price) in &keys.cell {
        let price = reader.number(Some(price), name.get_ref(), 0.0..=100_000.0, 0.0);
        if let Some(cell) = own.find(reader, name) {
            prices.per_cell.push((cell.name.clone(), price));
        }
    }
    prices
}
