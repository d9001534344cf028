//! The answer for a script.

use overwinter_line::answer::revisit::{Cost, Latest, Plan, Visits};
use overwinter_line::odds::{Ends, Lost};
use serde_json::{Value, json};

use super::by_day;
use crate::command::{document, rounded};

/// Latest days, the risk by the end of each day, from the start's own on, and visits with their cost.
#[must_use]
pub fn json(plan: &Plan<'_>) -> String {
    let line = plan.line;
    let cameras = line.cameras.iter().zip(&plan.odds.cameras);
    let cameras = cameras
        .zip(&plan.cameras)
        .map(|((camera, odds), (latest, visits))| {
            let mut one = latest_json(plan, *latest, &odds.lost[Lost::Record]);
            one["name"] = camera.name.as_str().into();
            one["visits"] = visits.count().into();
            one["season_risk"] = season_risk(visits);
            one
        });
    let mut any = latest_json(plan, plan.any, &plan.odds.line_broken);
    any["earliest_camera"] = plan.earliest().map_or(
        Value::Null,
        |(name, latest)| json!({ "name": name, "latest_day": date_json(plan, latest) }),
    );
    any["season_risk"] = season_risk(&plan.visits);
    document(&json!({
        "site": line.site,
        "season_start": line.season.start.to_string(),
        "season_days": line.season.days(),
        "risk": rounded(plan.risk.share(), 6),
        "risk_standard_error": rounded(plan.risk.standard_error(plan.paths), 5),
        "paths": plan.paths.count,
        "seed": plan.paths.seed,
        "cameras": cameras.collect::<Vec<_>>(),
        "line": any,
        "visits": visits_json(plan),
    }))
}

/// Of losing anything in the season, with every visit on its latest day; null as `visits`.
fn season_risk(visits: &Visits) -> Value {
    visits
        .season_risk()
        .map_or(Value::Null, |risk| rounded(risk, 4))
}

fn date_json(plan: &Plan<'_>, latest: Latest) -> Value {
    let date = plan.date(latest);
    date.map_or(Value::Null, |date| date.to_string().into())
}

fn latest_json(plan: &Plan<'_>, latest: Latest, ends: &Ends) -> Value {
    let risks = by_day(plan, ends);
    json!({
        "latest_day": date_json(plan, latest),
        "latest_days": latest.days(),
        "visit_needed": latest.days().is_some(),
        "risk_then": match latest {
            Latest::NoVisit { risk } | Latest::Day { risk, .. } => rounded(risk, 4),
        },
        "risk_a_day_later": match latest {
            Latest::NoVisit { .. } => Value::Null,
            Latest::Day { a_day_later, .. } => rounded(a_day_later, 4),
        },
        "risk_by_day": risks.into_iter().map(|risk| rounded(risk, 4)).collect::<Vec<_>>(),
    })
}

/// Null where not even a visit a day keeps within the risk.
fn visits_json(plan: &Plan<'_>) -> Value {
    let Visits::Planned { visits, .. } = &plan.visits else {
        return Value::Null;
    };
    let days = visits.iter().map(|visit| {
        json!({
            "date": visit.day.to_string(),
            "interval_days": visit.interval_days,
            "risk": rounded(visit.risk, 4),
        })
    });
    let cost = Cost::of(plan.line, visits.len(), &plan.due);
    let names = plan.line.cameras.iter().map(|camera| camera.name.as_str());
    let due = names.zip(&plan.due);
    let due = due.map(|(name, sets)| json!({ "camera": name, "sets": sets }));
    let amount = |amount: Option<f64>| amount.map(|amount| rounded(amount, 2));
    json!({
        "count": visits.len(),
        "days": days.collect::<Vec<_>>(),
        "fresh_sets_due": due.collect::<Vec<_>>(),
        "cost_walks": amount(cost.walks),
        "cost_cells": amount(cost.due_cells),
        "cost_cells_all_changed": amount(cost.all_cells),
        "currency": plan.line.prices.currency,
    })
}
