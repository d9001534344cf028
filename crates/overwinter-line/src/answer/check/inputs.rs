//! Inputs that can be read and were hardly meant so: of another hemisphere, in another unit, columns
//! that were taken for others.

use super::site::{FAR_DEG, climate_name};
use super::{About, clock};
use crate::line::{Line, WeatherOrigin};
use crate::weather::{FROM_FAHRENHEIT, FileDoubt};
use crate::words::plain;

/// What can be read of a line's inputs and was hardly meant so: names of findings, with their texts.
pub(super) fn doubtful(line: &Line) -> Vec<(&'static str, String)> {
    let about = [
        clock::far_from_sun(line),
        other_hemisphere(line).or_else(|| warmest_in_winter(line)),
        hotter_than_any(line),
        dim_light(line),
        hardly_any_snow(line),
        wider_than_any(line),
    ];
    let in_file = line.climate.doubts.iter().map(|doubt| in_file(line, doubt));
    about.into_iter().flatten().chain(in_file).collect()
}

/// Temperatures from beyond the equator; a little beyond it has the same seasons.
fn other_hemisphere(line: &Line) -> About {
    let station = line.climate.station?;
    let climate = climate_name(line);
    let here = line.place.latitude_deg();
    let beyond = here * station.latitude_deg < 0.0;
    (beyond && (here - station.latitude_deg).abs() > FAR_DEG).then(|| {
        let meant = match &line.climate.origin {
            WeatherOrigin::BuiltIn { name, .. } => match name.strip_suffix("-south") {
                Some(north) => format!("climate = \"{north}\""),
                None => format!("climate = \"{name}-south\""),
            },
            _ => "temperatures of the right half".to_owned(),
        };
        let text = format!(
            "{climate} at latitude {here:.1}°: its winter is the other half-year; is the sign of \
             latitude_deg right (south is negative)? If so, write {meant}"
        );
        ("climate-of-the-other-hemisphere", text)
    })
}

/// Nearer to the equator than this the warmest month may be any.
const TROPICS_DEG: f64 = 23.5;

/// November to March and May to September: no place beyond the tropics has its warmest month in its five
/// of winter (from memory). Indices from 0 for January.
const NORTHERN_WINTER: [usize; 5] = [10, 11, 0, 1, 2];
const SOUTHERN_WINTER: [usize; 5] = [4, 5, 6, 7, 8];

/// Where months differ by less, none is the warmest.
const LEVEL_K: f64 = 1.0;

/// A warmest month that is one of winter at the site's latitude.
fn warmest_in_winter(line: &Line) -> About {
    const NAMES: [&str; 12] = [
        "January",
        "February",
        "March",
        "April",
        "May",
        "June",
        "July",
        "August",
        "September",
        "October",
        "November",
        "December",
    ];
    let latitude = line.place.latitude_deg();
    let winter = if latitude < 0.0 {
        SOUTHERN_WINTER
    } else {
        NORTHERN_WINTER
    };
    let means = line.climate.months.months.iter().map(|month| month.mean_c);
    let warmest = |in_winter: bool| {
        let months = means.clone().enumerate();
        let months = months.filter(|(month, _)| winter.contains(month) == in_winter);
        months.max_by(|one, other| one.1.total_cmp(&other.1))
    };
    let (month, mean_c) = warmest(true)?;
    let (_, in_summer_c) = warmest(false)?;
    let in_winter = mean_c > in_summer_c + LEVEL_K;
    (in_winter && latitude.abs() > TROPICS_DEG).then(|| {
        let text = format!(
            "{} has its warmest month in {}, which is winter at latitude {latitude:.1}°: is the sign of \
             latitude_deg right (south is negative), and do the months begin with January?",
            climate_name(line),
            NAMES.get(month).unwrap_or(&"winter")
        );
        ("warmest-month-in-winter", text)
    })
}

/// A light of one percent or less was given as a share: no camera has so dim a setting.
fn dim_light(line: &Line) -> About {
    let is_share = |pct: f64| pct > 0.0 && pct <= 1.0;
    let camera = line
        .cameras
        .iter()
        .find(|camera| is_share(camera.settings.flash_pct))?;
    let pct = camera.settings.flash_pct;
    let text = format!(
        "flash_pct of {} is {} percent: is a share meant? Write {}",
        camera.name,
        plain(pct),
        plain(100.0 * pct)
    );
    Some(("percent-given-as-share", text))
}

/// Snow on one percent of the ground at the most, with parts of a percent among it: given as shares.
fn hardly_any_snow(line: &Line) -> About {
    let pct = line.snow_by_month.map(|share| 100.0 * share);
    let fractional = |pct: &f64| (pct - pct.round()).abs() > 1e-9;
    let is_share = pct.iter().all(|pct| *pct <= 1.0 + 1e-9) && pct.iter().any(fractional);
    is_share.then(|| {
        let text =
            "snow_cover_pct is 1 percent at the most: are shares meant? Write percent, 0 to 100";
        ("percent-given-as-share", text.to_owned())
    })
}

/// Above the warmest month that any station has had: 42.5 °C in Death Valley in July 2024 (from memory).
const WARMEST_MONTH_C: f64 = 43.0;

/// A month as warm as none on earth.
fn hotter_than_any(line: &Line) -> About {
    let means = line.climate.months.months.iter().map(|month| month.mean_c);
    let warmest_c = means.fold(f64::MIN, f64::max);
    (warmest_c > WARMEST_MONTH_C).then(|| {
        let text = format!(
            "{} has a month with a mean of {warmest_c:.1} °C, warmer than any place on earth: \
             {FROM_FAHRENHEIT}",
            climate_name(line)
        );
        ("temperatures-in-fahrenheit", text)
    })
}

/// Above the mean daily range of any month: high deserts have up to 25 K or so (from memory).
const WIDEST_RANGE_K: f64 = 30.0;

/// Days that swing as far as on no place on earth: degrees Fahrenheit are nearly twice as many.
fn wider_than_any(line: &Line) -> About {
    let months = line.climate.months.months.iter();
    let ranges = months.map(|month| month.mean_daily_max_c - month.mean_daily_min_c);
    let widest_k = ranges.fold(f64::MIN, f64::max);
    (widest_k > WIDEST_RANGE_K).then(|| {
        let text = format!(
            "{} has a month whose days swing by {widest_k:.0} K on the mean, more than on any place on \
             earth: are its temperatures degrees Celsius, and the highest and lowest those of days, not \
             of the whole month?",
            climate_name(line)
        );
        ("daily-range-too-wide", text)
    })
}

/// What can hardly be in a weather file.
fn in_file(line: &Line, doubt: &FileDoubt) -> (&'static str, String) {
    let file = climate_name(line);
    match doubt {
        FileDoubt::DewAboveAir { hours, of } => (
            "dew-point-above-air",
            format!(
                "{file} has a dew point above the air's temperature in {hours} of {of} hours, which cannot \
                 be: are the two columns swapped?"
            ),
        ),
        FileDoubt::LightDoesNotAddUp { days, of } => (
            "light-does-not-add-up",
            format!(
                "{file} has global light that direct and diffuse light do not add up to, on {days} of {of} \
                 days: are the columns, their unit (W/m2) and the header's place and hours from UTC right? \
                 What panels bring is worked out from this light"
            ),
        ),
    }
}
