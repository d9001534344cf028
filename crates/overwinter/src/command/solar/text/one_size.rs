//! One size closely.

use overwinter_line::answer::ends::percent as energy_share;
use overwinter_line::answer::solar::{Detail, Planned, Try, Why, WithoutSun};
use overwinter_line::words;
use time::Duration;

use super::{answer, percent, watt_hours};
use crate::command::paragraph::wrap;
use crate::table::{Column, Table};

pub(super) fn told(one: &Planned, detail: &Detail) -> String {
    let why = match detail.why {
        Why::Own => "as in the file",
        Why::PanelAlone => "carries it on the panel alone",
        Why::Smallest => "the first that does",
        Why::Best => "the best of the map",
    };
    let size = answer::size(&detail.size);
    let Some(lasts) = lasts(detail) else {
        return wrap(&format!(
            "Closely, {size} ({why}): the camera is dead on its first day in every sampled season."
        ));
    };
    [
        wrap(&format!(
            "Closely, {size} ({why}): {}",
            light(one, detail, &lasts)
        )),
        weeks(one, detail),
        wrap(&dark(detail)),
        trees(one, detail),
        tilts(one, detail),
    ]
    .join("\n\n")
}

/// How long a full store or pack lasts without any light; nothing for a camera that never runs.
fn lasts(detail: &Detail) -> Option<String> {
    match detail.without_sun {
        WithoutSun::Days(days) => Some(format!("lasts {days:.0} days without any sun")),
        WithoutSun::ToSeasonsEnd(days) => Some(format!(
            "lasts without any sun to the season's end, {days:.0} days on"
        )),
        WithoutSun::NeverRuns => None,
    }
}

/// What becomes of the season's light, and how long it lasts without any.
fn light(one: &Planned, detail: &Detail, lasts: &str) -> String {
    let light = &detail.light;
    // With a digit that shows the small ones, and makes a hundred of all four.
    let share = |wh: f64| format!("{:.1} %", 100.0 * wh / light.offered_wh);
    let full = if one.charges_pack() {
        "a full pack"
    } else {
        "a full store"
    };
    if light.offered_wh <= 0.0 {
        return format!(
            "no light reaches the panel all season. In the worst weeks {full} {lasts}."
        );
    }
    format!(
        "of {} Wh offered over the season {} are kept out by frost, heat or too strong a current, {} \
         spilled for want of room, {} lost in charging and {} stored. In the worst weeks {full} {lasts}.",
        watt_hours(light.offered_wh),
        share(light.kept_out_wh),
        share(light.spilled_wh),
        share(light.charging_loss_wh),
        share(light.stored_wh())
    )
}

fn weeks(one: &Planned, detail: &Detail) -> String {
    let head = [
        ("worst weeks", Column::Left),
        ("offered,\nWh", Column::Right),
        ("kept\nout", Column::Right),
        ("spilled", Column::Right),
        ("stored", Column::Right),
        ("drawn", Column::Right),
    ];
    let of_store = [
        ("from\ncells", Column::Right),
        ("days with the\nstore empty", Column::Right),
    ];
    let worst = detail
        .worst
        .iter()
        .filter_map(|place| detail.weeks.get(*place));
    let table = Table::of(worst).with(head, |week| {
        // A week has at least a day.
        let last = week.start + Duration::days(week.days as i64 - 1);
        let dates = format!(
            "{} to {}",
            words::day_of_year(week.start),
            words::date(last)
        );
        let mean = &week.mean;
        [
            dates,
            watt_hours(mean.offered_wh),
            watt_hours(mean.kept_out_wh),
            watt_hours(mean.spilled_wh),
            watt_hours(mean.stored_wh),
            watt_hours(mean.drawn_wh),
        ]
    });
    let table = table.with_if(!one.charges_pack(), of_store, |week| {
        [watt_hours(week.mean.from_pack_wh), percent(week.empty)]
    });
    table.text()
}

/// The darkest weeks, and the best plane in them.
fn dark(detail: &Detail) -> String {
    let place = &detail.siting;
    let days = place.dark.len();
    let (tilt, azimuth) = (place.best.tilt_deg, place.best.azimuth_deg);
    let Some(light) = place.best.light else {
        return format!("In the {days} darkest days no light reaches the panel.");
    };
    let from = detail.dark_from();
    let from = from.map_or_else(String::new, |first| {
        format!(" (from {})", words::date(first))
    });
    let gain = 100.0 * (light - 1.0);
    let best = if gain < 0.5 {
        "No other tilt or facing brings more".to_owned()
    } else {
        format!("Most comes with a tilt of {tilt:.0}° facing {azimuth:.0}°: {gain:.0} % more")
    };
    format!(
        "In the {days} darkest days{from} the panel is offered {} Wh. {best}.",
        watt_hours(detail.dark_offered_wh())
    )
}

fn trees(one: &Planned, detail: &Detail) -> String {
    let name = |one: &Try| {
        one.value.map_or("as in the file".to_owned(), |cover| {
            format!("{:.0} %", 100.0 * cover)
        })
    };
    tries(one, "evergreen trees\noverhead", &detail.siting.trees, name)
}

fn tilts(one: &Planned, detail: &Detail) -> String {
    let name = |one: &Try| format!("{:.0}°", one.value.unwrap_or(0.0));
    tries(one, "tilt", &detail.siting.tilts, name)
}

fn tries(one: &Planned, what: &str, tries: &[Try], name: impl Fn(&Try) -> String) -> String {
    let head = [
        (what, Column::Left),
        ("light in the\ndarkest days", Column::Right),
        ("alive at\nthe end", Column::Right),
    ];
    let own = if one.own.is_some() {
        " (own)"
    } else {
        " (usual)"
    };
    let table = Table::of(tries).with(head, |tried| {
        let mark = if tried.own && tried.value.is_some() {
            own
        } else {
            ""
        };
        [
            name(tried) + mark,
            tried.light.map_or("-".to_owned(), energy_share),
            percent(tried.lasting.alive),
        ]
    });
    let never_empty = [("store never\nempty", Column::Right)];
    let table = table.with_if(!one.charges_pack(), never_empty, |tried| {
        [percent(tried.lasting.never_empty)]
    });
    table.text()
}
