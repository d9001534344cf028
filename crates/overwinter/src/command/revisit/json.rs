//! The answer for a script.

use serde_json::{Value, json};

use super::{Cost, Latest, Plan, Visits, by_day};
use crate::command::{document, rounded};
use crate::odds::Ends;

/// Latest days, curves of risk by whole days, and visits with their cost.
#[must_use]
pub fn json(plan: &Plan<'_>) -> String {
    let line = plan.line;
    let cameras = line.cameras.iter().zip(&plan.odds.cameras);
    let cameras = cameras
        .zip(&plan.cameras)
        .map(|((camera, odds), (latest, visits))| {
            let mut one = latest_json(plan, *latest, &odds.record_broken);
            one["name"] = camera.name.as_str().into();
            one["visits"] = visits.count().into();
            one
        });
    let mut any = latest_json(plan, plan.any, &plan.odds.line_broken);
    any["earliest_camera"] = plan.earliest().map_or(
        Value::Null,
        |(name, latest)| json!({ "name": name, "latest_day": date_json(plan, latest) }),
    );
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

fn date_json(plan: &Plan<'_>, latest: Latest) -> Value {
    let date = plan.date(latest);
    date.map_or(Value::Null, |date| date.to_string().into())
}

fn latest_json(plan: &Plan<'_>, latest: Latest, ends: &Ends) -> Value {
    let risks = by_day(plan, ends);
    json!({
        "latest_day": date_json(plan, latest),
        "latest_days": latest.days(),
        "visit_needed": latest != Latest::NoVisit,
        "risk_then": match latest {
            Latest::NoVisit => risks.last().map(|risk| rounded(*risk, 4)),
            Latest::Day { risk, .. } => Some(rounded(risk, 4)),
        },
        "risk_by_day": risks.into_iter().map(|risk| rounded(risk, 4)).collect::<Vec<_>>(),
    })
}

/// Null where not even a visit a day keeps within the risk.
fn visits_json(plan: &Plan<'_>) -> Value {
    let Visits::Planned(visits) = &plan.visits else {
        return Value::Null;
    };
    let days = visits.iter().map(
        |visit| json!({ "date": visit.day.to_string(), "interval_days": visit.interval_days }),
    );
    let Cost { walks, cells } = Cost::of(plan.line, visits.len());
    let amount = |amount: Option<f64>| amount.map(|amount| rounded(amount, 2));
    json!({
        "count": visits.len(),
        "days": days.collect::<Vec<_>>(),
        "cost_walks": amount(walks),
        "cost_cells": amount(cells),
        "currency": plan.line.prices.currency,
    })
}
