//! The answer in words.

use overwinter_line::answer::ends::{self, percent as energy_share};
use overwinter_line::answer::solar::{
    Cause, Lasting, PanelTaken, Planned, Point, Shortfall, Size, Solar,
};
use overwinter_line::words::plain;
use overwinter_model::harvest::Surroundings;
use overwinter_model::season::Ending;

use super::{percent, wanted, watt_hours};

/// Whether the cells do alone, the smallest panel and store, and what was taken of a panel that the
/// file does not have.
pub(super) fn told(solar: &Solar, one: &Planned) -> String {
    let mut sentences = vec![own(solar, one), cells(solar, one), smallest(solar, one)];
    if !one.charges_pack() {
        sentences.push(panel_alone(solar, one));
    }
    if let (None, Some(panel)) = (one.own, &one.panel) {
        sentences.push(usual(one, panel));
    }
    sentences.retain(|sentence| !sentence.is_empty());
    sentences.join(" ")
}

/// Whether the panel in the file does.
fn own(solar: &Solar, one: &Planned) -> String {
    let Some((own, lasting)) = one.own_lasting() else {
        return String::new();
    };
    let does = if solar.target.reached(lasting.alive) {
        "does"
    } else {
        "does not do"
    };
    let store = if one.charges_pack() {
        String::new()
    } else {
        format!(
            ", its store never empty in {}",
            percent(lasting.never_empty)
        )
    };
    format!(
        "The panel in the file, {}, {does} for {} %: alive at the end in {} of the seasons{store}.{}",
        size(&own),
        wanted(solar),
        percent(lasting.alive),
        ending_before(&lasting)
    )
}

/// What ends before the camera does.
fn ending_before(lasting: &Lasting) -> String {
    let sooner = |share: Option<f64>| share.filter(|share| *share < lasting.alive - 1e-9);
    let ends = [
        ("night pictures", sooner(lasting.night_pictures)),
        ("uploads", sooner(lasting.uploads)),
    ];
    let told = ends.into_iter().filter_map(|(what, share)| {
        let share = percent(share?);
        Some(format!(" It has {what} to the end in only {share}."))
    });
    told.collect()
}

fn cells(solar: &Solar, one: &Planned) -> String {
    let alone = one.choices.first().map(|alone| alone.lasting);
    let alive = alone.map_or(0.0, |alone| alone.alive);
    let wanted = wanted(solar);
    if one.cells_alone_do(solar.target) {
        format!(
            "No panel is needed for {wanted} %: the cells alone last to the season's end in {} of \
             the seasons.{}",
            percent(alive),
            alone.as_ref().map_or_else(String::new, ending_before)
        )
    } else {
        format!(
            "The cells alone last to the season's end in {} of the seasons, which is less than \
             {wanted} %.",
            percent(alive)
        )
    }
}

fn smallest(solar: &Solar, one: &Planned) -> String {
    let wanted = wanted(solar);
    match &one.answer.smallest {
        Some(_) if one.cells_alone_do(solar.target) => String::new(),
        Some(point) => format!(
            "{} that does: {}, alive at the end in {}{}.{}",
            superlative(point),
            size(&point.size),
            percent(point.lasting.alive),
            cost(solar, point),
            ending_before(&point.lasting)
        ),
        None => one.shortfall.as_ref().map_or_else(String::new, |short| {
            let Some(told) = why_and_help(short.cause()) else {
                return never_runs(one, short);
            };
            format!(
                "None of the map reaches {wanted} %. The best is {}, alive at the end in {}. {}",
                size(&short.best.size),
                percent(short.best.lasting.alive),
                reason(short, told)
            )
        }),
    }
}

fn panel_alone(solar: &Solar, one: &Planned) -> String {
    let short = one.shortfall.as_ref();
    let short = short.and_then(|short| Some((short, why_and_help(short.cause())?)));
    match (&one.answer.panel_alone, short) {
        (Some(point), _) => {
            let carries = format!(
                "{} that carries it on the panel alone, with its store never empty: {}, in {} of the \
                 seasons{}.",
                superlative(point),
                size(&point.size),
                percent(point.lasting.never_empty),
                cost(solar, point)
            );
            match &one.weak_alone {
                Some(weak) => format!("{carries} {weak}"),
                None => carries,
            }
        }
        (None, Some((short, told))) if one.answer.smallest.is_some() => format!(
            "None of the map carries it on the panel alone with {} %. The best is {}, its store \
             never empty in {} of the seasons. {}",
            wanted(solar),
            size(&short.best.size),
            percent(short.best.lasting.never_empty),
            reason(short, told)
        ),
        _ => String::new(),
    }
}

fn superlative(point: &Point) -> &'static str {
    if point.cost.is_some() {
        "The cheapest"
    } else {
        "The smallest"
    }
}

/// `3 W with 12 Wh`, `5 W with 2 strings (178 Wh)`.
pub(in crate::command::solar) fn size(size: &Size) -> String {
    let watts = plain(size.panel_w);
    match size.store.strings {
        None => format!("{watts} W with {} Wh", plain(size.store.wh)),
        Some(1) => format!("{watts} W with one pack ({:.0} Wh)", size.store.wh),
        Some(n) => format!(
            "{watts} W with {n} packs in parallel ({:.0} Wh)",
            size.store.wh
        ),
    }
}

fn cost(solar: &Solar, point: &Point) -> String {
    point.cost.map_or_else(String::new, |cost| {
        let text = format!(" ({cost:.2} {}", solar.currency);
        let both = match point.size.store.strings {
            Some(_) => "panel and pack",
            None => "panel and store",
        };
        format!("{} for {both})", text.trim_end())
    })
}

/// That no panel could help, and why.
fn never_runs(one: &Planned, short: &Shortfall) -> String {
    let why = short.dead.as_ref().map_or_else(String::new, |end| {
        let reason = ends::reason(Ending::Camera, end, &one.supply);
        format!(": {reason}")
    });
    format!(
        "No panel or store helps: the camera never runs. It is dead on its first day in every sampled \
         season{why}. What would help: stronger or more cells (`compare`), or settings that draw less \
         at once (`settings`)."
    )
}

/// Why no size does, and what would help; `None` where no size matters.
fn why_and_help(cause: Cause) -> Option<(&'static str, &'static str)> {
    Some(match cause {
        Cause::NeverRuns => return None,
        Cause::Dark => (
            "it is too dark for what the camera draws",
            "a place with more sky, a steeper or a bigger panel, or settings that draw less \
             (`settings`)",
        ),
        Cause::KeptOut => (
            "what is charged is too cold for it, or cannot take it as fast",
            "cells whose maker allows more cold or current, a store that is kept warmer (in the \
             ground, insulated), or one big enough to bridge the frost",
        ),
        Cause::Room => (
            "the light comes at other times than it is drawn, and there is no room to keep it",
            "a bigger store, or settings that draw less (`settings`)",
        ),
    })
}

/// Why the best size does no better, and what would help.
fn reason(short: &Shortfall, (why, help): (&str, &str)) -> String {
    let share = |wh: f64| energy_share(wh / short.offered_wh.max(f64::MIN_POSITIVE));
    let offered = if short.offered_wh > 0.0 {
        format!(
            "{} Wh are offered, of which {} are kept out and {} spilled",
            watt_hours(short.offered_wh),
            share(short.kept_out_wh),
            share(short.spilled_wh)
        )
    } else {
        "no light is offered".to_owned()
    };
    format!(
        "In its worst weeks {offered}, and {} Wh are drawn: {why}. What would help: {help}.",
        watt_hours(short.drawn_wh)
    )
}

/// What was taken of a panel that the file does not have.
fn usual(one: &Planned, panel: &PanelTaken) -> String {
    let is_usual = |key: &str| panel.usual_keys.contains(&key);
    let mut told = Vec::new();
    let mut say = |key: &str, what: String| {
        if is_usual(key) {
            told.push(what);
        }
    };
    say("tilt_deg", format!("tilt {:.0}°", panel.tilt_deg));
    say("azimuth_deg", format!("facing {:.0}°", panel.azimuth_deg));
    say("trees_pct", "no trees".to_owned());
    say("horizon_deg", "a level horizon".to_owned());
    say(
        "dirt_pct",
        format!("{} % lost to dirt", 100.0 * Surroundings::DIRT),
    );
    say("snow_on_panel_pct", "no snow on it".to_owned());
    if let Some(efficiency) = panel.controller {
        let efficiency = energy_share(efficiency);
        say(
            "controller_pct",
            format!("a controller that passes {efficiency} on"),
        );
    }
    if let Some((cell, efficiency)) = &panel.store {
        say("store_cell", format!("a store of {cell}"));
        let given_back = energy_share(*efficiency);
        say("store_pct", format!("which gives {given_back} back"));
    }
    let lag = plain(panel.lag_h);
    say("lag_h", format!("{lag} h behind the air's temperature"));
    let told = told.join(", ");
    format!(
        "The file has no panel for {}; taken as usual: {told}.",
        one.name
    )
}
