//! What a blob holds, for a script.

use overwinter_line::answer::embed::Blob;
use overwinter_line::cells::chemistry_name;
use overwinter_model::blob::{Air, Installation, Sunlight, VERSION, checksum};
use overwinter_model::draw::{self, Burst, CheckIn, Draw, Upload, UploadMode};
use overwinter_model::season::{Feeds, Scenario};
use overwinter_model::{MonthNormals, Pattern};
use serde_json::{Value, json};

use crate::command::{document, rounded};

/// The answer for a script.
#[must_use]
pub fn json(blob: &Blob) -> String {
    let Installation {
        scenario,
        place,
        air,
        sunlight,
        activity,
        flash_below_sun_deg,
        first_day,
        days,
    } = &blob.holds();
    let counts = activity.counts();
    document(&json!({
        "format_version": VERSION,
        "size_bytes": blob.bytes().len(),
        "crc32": format!("{:08x}", checksum(blob.bytes())),
        "season": {
            "start": first_day.date().to_string(),
            "end": first_day.plus(i32::from(*days) - 1).date().to_string(),
            "days": days,
        },
        "place": {
            "latitude_deg": place.latitude_deg(),
            "longitude_deg": place.longitude_deg(),
            "utc_offset_h": rounded(place.utc_offset().as_hours(), 4),
        },
        "air": air_json(air),
        "cells": cells_json(scenario),
        "draw": draw_json(&scenario.draw),
        "feeds": scenario.feeds.as_ref().map(feeds_json),
        "panel": sunlight.as_ref().map(panel_json),
        "activity": {
            "triggers_per_day": activity.triggers_per_day(),
            "pattern": pattern_name(activity.pattern()),
            "by_hour": by_hour(activity.pattern()),
            "false_share": counts.false_share,
            "dispersion": counts.dispersion,
            "rate_sd_ln": counts.rate_sd_ln,
        },
        "flash_below_sun_deg": flash_below_sun_deg,
    }))
}

fn air_json(air: &Air) -> Value {
    let month = |month: &MonthNormals| {
        json!({
            "mean_c": rounded(month.mean.as_celsius(), 6),
            "daily_min_c": rounded(month.daily_min.as_celsius(), 6),
            "daily_max_c": rounded(month.daily_max.as_celsius(), 6),
        })
    };
    match air {
        Air::Constant(air) => json!({ "constant_c": rounded(air.as_celsius(), 6) }),
        Air::Normals(normals) => {
            json!({ "months": normals.months().iter().map(month).collect::<Vec<_>>() })
        }
    }
}

fn cells_json(scenario: &Scenario) -> Value {
    let Scenario { pack, start, .. } = scenario;
    let cell = pack.cell();
    json!({
        "chemistry": chemistry_name(cell.chemistry),
        "series": pack.series(),
        "parallel": pack.parallel(),
        "cells_in_a_case": cell.in_series,
        "capacity_mah": rounded(cell.capacity.as_milliampere_hours(), 3),
        "weakest_capacity_mah": rounded(pack.weakest().capacity().as_milliampere_hours(), 3),
        "fresh_v": rounded(pack.fresh_voltage().as_volts(), 4),
        "charge_fraction": rounded(1.0 - pack.depth(start), 6),
        "age_days": rounded(start.ordinary.age.as_days(), 3),
    })
}

fn draw_json(draw: &Draw) -> Value {
    json!({
        "standby_mw": rounded(draw.standby.as_milliwatts(), 6),
        "day_trigger": bursts_json(draw.day_trigger.bursts()),
        "night_trigger": bursts_json(draw.night_trigger.bursts()),
        "scheduled_per_day": draw.scheduled_per_day,
        "quiet_s": draw.quiet.as_seconds(),
        "upload": draw.upload.as_ref().map(upload_json),
        "check_in": draw.check_in.as_ref().map(check_in_json),
        "card_mb": draw.card.map(|card| card.capacity_mb),
        "cutoff_v": rounded(draw.cut_off.as_volts(), 6),
        "flash_cutoff_v": rounded(draw.flash_lowest.as_volts(), 6),
    })
}

fn bursts_json(bursts: &[Burst]) -> Value {
    json!({
        "energy_j": rounded(draw::energy(bursts).total().as_joules(), 6),
        "length_s": rounded(draw::length(bursts).as_seconds(), 6),
        "bursts": bursts.len(),
    })
}

fn upload_json(upload: &Upload) -> Value {
    let (mode, hour) = match upload.mode {
        UploadMode::Each => ("each", None),
        UploadMode::Daily { hour } => ("daily", Some(hour)),
    };
    json!({
        "mode": mode,
        "hour": hour,
        "pictures_per_trigger": upload.pictures_per_trigger,
        "one_picture": bursts_json(&upload.bursts(1.0)),
        "cutoff_v": rounded(upload.lowest.as_volts(), 6),
    })
}

fn check_in_json(check_in: &CheckIn) -> Value {
    json!({
        "per_day": check_in.per_day,
        "report": bursts_json(check_in.event.bursts()),
        "cutoff_v": rounded(check_in.lowest.as_volts(), 6),
    })
}

fn feeds_json(feeds: &Feeds) -> Value {
    match feeds {
        Feeds::Store(store) => json!({
            "what": "store",
            "store_wh": rounded(store.capacity.as_watt_hours(), 6),
            "weak_below_c": store.weak_below.map(|below| rounded(below.as_celsius(), 4)),
        }),
        Feeds::Pack { lag } => json!({ "what": "pack", "lag_h": rounded(lag.as_hours(), 4) }),
    }
}

fn panel_json(sunlight: &Sunlight) -> Value {
    let mount = &sunlight.mount;
    json!({
        "panel_w": rounded(mount.panel.rated.as_watts(), 6),
        "tilt_deg": mount.plane.tilt_deg(),
        "azimuth_deg": mount.plane.azimuth_deg(),
        "elevation_m": sunlight.elevation_m,
        "clearness_mean": sunlight.clearness.map(|month| month.mean),
    })
}

/// A pattern as a line file names it.
pub(super) fn pattern_name(pattern: &Pattern) -> &'static str {
    match pattern {
        Pattern::Even => "even",
        Pattern::Day => "day",
        Pattern::Night => "night",
        Pattern::Twilight => "twilight",
        Pattern::ByHour(_) => "by-hour",
    }
}

fn by_hour(pattern: &Pattern) -> Option<&[f64; 24]> {
    match pattern {
        Pattern::ByHour(weights) => Some(weights),
        _ => None,
    }
}
