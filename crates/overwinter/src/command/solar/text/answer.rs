//! The answer in words.

use super::{percent, wanted, watt_hours};
use crate::command::solar::{Detail, Planned, Point, Size, Solar};
use crate::keys::plain;
use crate::line::{Charges, PanelChoice};
use overwinter_model::harvest::Controller;

/// More of the light kept out than this is named as the reason, in the worst weeks.
const MUCH: f64 = 0.3;

/// Whether the cells do alone, the smallest panel and store, and what was taken of a panel that the
/// file does not have.
pub(super) fn told(solar: &Solar<'_>, one: &Planned) -> String {
    let mut sentences = vec![cells(solar, one), smallest(solar, one)];
    if !one.charges_pack() {
        sentences.push(panel_alone(solar, one));
    }
    if let (None, Some(panel)) = (one.own, &one.camera.panel) {
        sentences.push(usual(one, panel));
    }
    sentences.retain(|sentence| !sentence.is_empty());
    sentences.join(" ")
}

fn cells(solar: &Solar<'_>, one: &Planned) -> String {
    let alive = one.choices.first().map_or(0.0, |alone| alone.lasting.alive);
    let wanted = wanted(solar);
    if one.cells_alone_do(solar.wanted) {
        format!(
            "No panel is needed for {wanted} %: the cells alone last to the season's end in {} of \
             the seasons.",
            percent(alive)
        )
    } else {
        format!(
            "The cells alone last to the season's end in {} of the seasons, which is less than \
             {wanted} %.",
            percent(alive)
        )
    }
}

fn smallest(solar: &Solar<'_>, one: &Planned) -> String {
    let wanted = wanted(solar);
    match &one.answer.smallest {
        Some(_) if one.cells_alone_do(solar.wanted) => String::new(),
        Some(point) => format!(
            "{} that does: {}, alive at the end in {}{}.",
            superlative(point),
            size(&point.size),
            percent(point.lasting.alive),
            cost(solar, point)
        ),
        None => format!("None of the map reaches {wanted} %. {}", why_not(one)),
    }
}

fn panel_alone(solar: &Solar<'_>, one: &Planned) -> String {
    match &one.answer.panel_alone {
        Some(point) => format!(
            "{} that carries it on the panel alone, with its store never empty: {}, in {} of the \
             seasons{}.",
            superlative(point),
            size(&point.size),
            percent(point.lasting.never_empty),
            cost(solar, point)
        ),
        None if one.answer.smallest.is_none() => String::new(),
        None => {
            let best = one.map.points.iter().map(|point| point.lasting.never_empty);
            format!(
                "None of the map carries it on the panel alone with {} %: the store is never empty \
                 in {} at best. {}",
                wanted(solar),
                percent(best.fold(0.0, f64::max)),
                reason(one.detail.as_ref())
            )
        }
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
pub(super) fn size(size: &Size) -> String {
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

fn cost(solar: &Solar<'_>, point: &Point) -> String {
    point.cost.map_or_else(String::new, |cost| {
        let text = format!(" ({cost:.2} {}", solar.line.prices.currency);
        let both = match point.size.store.strings {
            Some(_) => "panel and pack",
            None => "panel and store",
        };
        format!("{} for {both})", text.trim_end())
    })
}

/// The best odds, why they are no better, and what would help.
fn why_not(one: &Planned) -> String {
    let Some(best) = one.map.best() else {
        return String::new();
    };
    format!(
        "The best is {}, alive at the end in {}. {}",
        size(&best.size),
        percent(best.lasting.alive),
        reason(one.detail.as_ref())
    )
}

/// What the light of the worst weeks says.
fn reason(detail: Option<&Detail>) -> String {
    let Some(detail) = detail else {
        return String::new();
    };
    let weeks = detail
        .worst
        .iter()
        .filter_map(|place| detail.weeks.get(*place));
    let [mut offered, mut kept_out, mut spilled, mut drawn] = [0.0; 4];
    for week in weeks {
        offered += week.mean.offered_wh;
        kept_out += week.mean.kept_out_wh;
        spilled += week.mean.spilled_wh;
        drawn += week.mean.drawn_wh;
    }
    let numbers = format!(
        "In the worst weeks {} offers {} Wh for {} Wh drawn; {} of it is kept out, {} spilled",
        size(&detail.size),
        watt_hours(offered),
        watt_hours(drawn),
        percent(kept_out / offered.max(f64::MIN_POSITIVE)),
        percent(spilled / offered.max(f64::MIN_POSITIVE))
    );
    let (why, help) = if kept_out > MUCH * offered {
        (
            "what is charged is too cold for it",
            "cells that take charge in the cold within their maker's limits, a store that is kept \
             warmer (in the ground, insulated), or one that bridges the frost",
        )
    } else if offered < drawn {
        (
            "it is too dark for what the camera draws",
            "a place with more sky, a steeper panel, a bigger one, or settings that draw less \
             (`settings`)",
        )
    } else {
        (
            "the light comes at another time than it is drawn",
            "a bigger store, or settings that draw less (`settings`)",
        )
    };
    format!("{numbers}: {why}. What would help: {help}.")
}

/// What was taken of a panel that the file does not have.
fn usual(one: &Planned, panel: &PanelChoice) -> String {
    let is_usual = |key: &str| panel.usual.contains(&key);
    let mut told = Vec::new();
    let mut say = |key: &str, what: String| {
        if is_usual(key) {
            told.push(what);
        }
    };
    say("tilt_deg", format!("tilt {:.0}°", panel.plane.tilt_deg()));
    say(
        "azimuth_deg",
        format!("facing {:.0}°", panel.plane.azimuth_deg()),
    );
    say("trees_pct", "no trees".to_owned());
    say("horizon_deg", "a level horizon".to_owned());
    say("dirt_pct", "3 % lost to dirt".to_owned());
    say("snow_on_panel_pct", "no snow on it".to_owned());
    if let Controller::MaximumPower { efficiency } = panel.controller {
        let efficiency = percent(efficiency);
        say(
            "controller_pct",
            format!("a controller that passes {efficiency} on"),
        );
    }
    if panel.charges(&one.camera.pack) == Charges::Store {
        let cell = &panel.store.cell.name;
        say("store_cell", format!("a store of {cell}"));
        let given_back = percent(panel.store.efficiency);
        say("store_pct", format!("which gives {given_back} back"));
    }
    let lag = plain(panel.lag.as_hours());
    say("lag_h", format!("{lag} h behind the air's temperature"));
    let told = told.join(", ");
    format!(
        "The file has no panel for {}; taken as usual: {told}.",
        one.camera.name
    )
}
