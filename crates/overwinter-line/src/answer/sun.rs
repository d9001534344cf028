//! `sun`: the sun over the season, and when it stands in a lens.

use overwinter_model::{Place, Time};
use serde::Serialize;
use time::UtcOffset;
use time::macros::format_description;

use super::document::{IsoDate, Rounded};
use super::request::LineRequest;
use crate::line::{Camera, Line, Season};
use crate::sky::{Above, CameraSun, DaySun, Spell, SunSeason, zone};

/// What is asked for.
#[derive(Clone, Debug, PartialEq)]
pub struct SunRequest {
    /// The line.
    pub line: LineRequest,
    /// How near to a lens's axis the sun counts, degrees.
    pub within_deg: f64,
}

/// The answer.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct SunAnswer {
    /// What a script reads.
    pub document: SunDocument,
    /// What is said and drawn beyond that.
    pub details: SunDetails,
}

/// The season's sun. Moments are RFC 3339 in local standard time.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct SunDocument {
    /// What the site is called.
    pub site: String,
    /// North positive.
    pub latitude_deg: f64,
    /// East positive.
    pub longitude_deg: f64,
    /// Which clock, in words.
    pub clock: String,
    /// Its offset.
    pub utc_offset_h: f64,
    /// From when to when.
    pub season: Season,
    /// How near to a lens's axis the sun counts.
    pub within_deg: f64,
    /// The days of the season.
    pub days: Vec<DayDocument>,
    /// The cameras in their order.
    pub cameras: Vec<CameraSunDocument>,
}

/// The sun over one date. Of what happens twice on it, the second is there too.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct DayDocument {
    /// The date.
    pub date: IsoDate,
    /// `day` or `night` where the sun stays up or down for all of it.
    pub polar: Option<&'static str>,
    /// Hours of daylight.
    pub daylight_h: Rounded<4>,
    /// Hours in which it is light enough to see without a lamp.
    pub civil_twilight_or_day_h: Rounded<4>,
    /// When the sun stands highest.
    pub noon: String,
    /// How high it stands then.
    pub noon_elevation_deg: Rounded<2>,
    /// Where it rises first.
    pub sunrise_azimuth_deg: Option<Rounded<1>>,
    /// Where it sets first.
    pub sunset_azimuth_deg: Option<Rounded<1>>,
    /// When it rises.
    pub sunrise: Option<String>,
    /// When it rises again.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub second_sunrise: Option<String>,
    /// When it sets.
    pub sunset: Option<String>,
    /// When it sets again.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub second_sunset: Option<String>,
    /// When civil twilight begins.
    pub civil_dawn: Option<String>,
    /// When it begins again.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub second_civil_dawn: Option<String>,
    /// When it ends.
    pub civil_dusk: Option<String>,
    /// When it ends again.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub second_civil_dusk: Option<String>,
}

/// The sun before a camera; nothing where its facing is not known.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct CameraSunDocument {
    /// Its name.
    pub name: String,
    /// Where it faces.
    pub facing_deg: Option<f64>,
    /// Hours over the season with the sun in its lens.
    pub hours_in_lens: Option<Rounded<1>>,
    /// Days with the sun in its lens.
    pub days_in_lens: Option<usize>,
    /// When.
    pub spells: Option<Vec<SpellDocument>>,
    /// The nearest facing that is as good as the best.
    pub better_facing_deg: Option<f64>,
    /// Hours over the season with the sun in its lens there.
    pub hours_in_lens_there: Option<Rounded<1>>,
}

/// Days on end on which the sun stands in a lens at about the same time of day.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct SpellDocument {
    /// First day.
    pub first: IsoDate,
    /// Last day.
    pub last: IsoDate,
    /// The earliest by the clock.
    pub from: String,
    /// The latest by the clock.
    pub to: String,
    /// Hours in all.
    pub hours: Rounded<1>,
    /// How near the sun comes to the axis.
    pub nearest_deg: Rounded<0>,
}

/// What is said and drawn beyond the document.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct SunDetails {
    /// Where the site is.
    pub place: Place,
    /// The sun over the season.
    pub sun: SunSeason,
}

impl SunAnswer {
    /// The cameras whose facing is known.
    pub fn lenses(&self) -> impl Iterator<Item = (&str, &CameraSun)> {
        let names = self
            .document
            .cameras
            .iter()
            .map(|camera| camera.name.as_str());
        let cameras = names.zip(&self.details.sun.cameras);
        cameras.filter_map(|(name, sun)| Some((name, sun.as_ref()?)))
    }
}

/// The sun over a line's season; it stands in a lens within `within_deg` of its axis.
#[must_use]
pub fn answer(line: &Line, within_deg: f64) -> SunAnswer {
    let sun = SunSeason::new(line, within_deg);
    let offset = offset(&line.place);
    let cameras = line.cameras.iter().zip(&sun.cameras);
    SunAnswer {
        document: SunDocument {
            site: line.site.clone(),
            latitude_deg: line.place.latitude_deg(),
            longitude_deg: line.place.longitude_deg(),
            clock: format!("local standard time, {}", zone(&line.place)),
            utc_offset_h: line.place.utc_offset().as_hours(),
            season: line.season,
            within_deg,
            days: sun
                .days
                .iter()
                .map(|day| day_document(day, offset))
                .collect(),
            cameras: cameras
                .map(|(camera, sun)| camera_document(camera, sun.as_ref()))
                .collect(),
        },
        details: SunDetails {
            place: line.place,
            sun,
        },
    }
}

/// The clock's offset to the minute, as RFC 3339 writes it.
fn offset(place: &Place) -> UtcOffset {
    let minutes = (place.utc_offset().as_hours() * 60.0).round() as i32;
    // Between -12 and 14 hours, so it is one.
    UtcOffset::from_whole_seconds(60 * minutes).unwrap_or(UtcOffset::UTC)
}

fn day_document(day: &DaySun, offset: UtcOffset) -> DayDocument {
    let direction = |deg: &[f64]| deg.first().copied().map(Rounded);
    let two = |mut moments: Vec<Time>| {
        moments.truncate(2);
        let mut moments = moments.into_iter().map(|at| rfc_3339(day, at, offset));
        [moments.next(), moments.next()]
    };
    let ends = |above: &Above| [two(above.rises().collect()), two(above.sets().collect())];
    let [[sunrise, second_sunrise], [sunset, second_sunset]] = ends(&day.up);
    let [dawn, dusk] = ends(&day.civil);
    let [civil_dawn, second_civil_dawn] = dawn;
    let [civil_dusk, second_civil_dusk] = dusk;
    DayDocument {
        date: IsoDate(day.date),
        polar: day
            .up
            .all_day()
            .map(|above| if above { "day" } else { "night" }),
        daylight_h: Rounded(day.up.length().as_hours()),
        civil_twilight_or_day_h: Rounded(day.civil.length().as_hours()),
        noon: rfc_3339(day, day.noon, offset),
        noon_elevation_deg: Rounded(day.noon_elevation_deg),
        sunrise_azimuth_deg: direction(&day.rises_deg),
        sunset_azimuth_deg: direction(&day.sets_deg),
        sunrise,
        second_sunrise,
        sunset,
        second_sunset,
        civil_dawn,
        second_civil_dawn,
        civil_dusk,
        second_civil_dusk,
    }
}

fn rfc_3339(day: &DaySun, at: Time, offset: UtcOffset) -> String {
    let moment = day.moment(at, 1).assume_offset(offset);
    let form = format_description!(
        "[year]-[month]-[day]T[hour]:[minute]:[second][offset_hour sign:mandatory]:[offset_minute]"
    );
    // The description is checked when this is compiled, and a moment has all of its parts.
    moment.format(form).unwrap_or_else(|_| moment.to_string())
}

fn camera_document(camera: &Camera, sun: Option<&CameraSun>) -> CameraSunDocument {
    let better = sun.and_then(|sun| sun.better);
    CameraSunDocument {
        name: camera.name.clone(),
        facing_deg: camera.facing_deg,
        hours_in_lens: sun.map(|sun| Rounded(sun.hours)),
        days_in_lens: sun.map(|sun| sun.days),
        spells: sun.map(|sun| sun.spells.iter().map(spell_document).collect()),
        better_facing_deg: better.map(|turn| turn.facing_deg),
        hours_in_lens_there: better.map(|turn| Rounded(turn.hours)),
    }
}

fn spell_document(spell: &Spell) -> SpellDocument {
    let (from, to) = spell.earliest_and_latest();
    let clock = |minute: u16| format!("{:02}:{:02}", minute / 60, minute % 60);
    SpellDocument {
        first: IsoDate(spell.first),
        last: IsoDate(spell.last()),
        from: clock(from),
        to: clock(to),
        hours: Rounded(spell.hours()),
        nearest_deg: Rounded(spell.nearest_deg),
    }
}
