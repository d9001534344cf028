//! How uneven days are, and how far rates lie apart, by the method of moments.

use std::collections::BTreeMap;

use overwinter_model::Counts;

use super::events::Deployment;

/// A figure and its sampling error.
#[derive(Clone, Copy)]
pub(super) struct Estimate {
    pub(super) value: f64,
    pub(super) standard_error: f64,
}

impl Estimate {
    /// Of `figure`, with the error from leaving out one element after another (jackknife).
    pub(super) fn jackknife<T>(all: &[T], figure: impl Fn(&[&T]) -> f64) -> Self {
        let all: Vec<&T> = all.iter().collect();
        let without: Vec<f64> = (0..all.len())
            .map(|left_out| {
                let mut rest = all.clone();
                rest.remove(left_out);
                figure(&rest)
            })
            .collect();
        let n = without.len() as f64;
        let mean = without.iter().sum::<f64>() / n;
        let squares: f64 = without.iter().map(|value| (value - mean).powi(2)).sum();
        Self {
            value: figure(&all),
            standard_error: ((n - 1.0) / n * squares).sqrt(),
        }
    }
}

/// A part of somebody's record.
#[derive(Clone, Copy)]
struct Piece {
    days: f64,
    events: f64,
}

impl Piece {
    fn of(daily: &[u32]) -> Self {
        Self {
            days: daily.len() as f64,
            events: daily.iter().map(|count| f64::from(*count)).sum(),
        }
    }
}

/// The negative binomial's `k` of daily counts with each deployment's own mean: the sum of mean^2 over the
/// sum of (variance - mean), both weighted by days. A mean of `n` days squared is too large by
/// variance / n.
pub(super) fn dispersion(deployments: &[&Deployment]) -> f64 {
    let (mut squares, mut excess) = (0.0, 0.0);
    for deployment in deployments.iter().filter(|d| d.daily.len() > 1) {
        let Piece { days, events } = Piece::of(&deployment.daily);
        let mean = events / days;
        let about_mean = |count: &u32| (f64::from(*count) - mean).powi(2);
        let variance = deployment.daily.iter().map(about_mean).sum::<f64>() / (days - 1.0);
        squares += days * (mean * mean - variance / days);
        excess += days * (variance - mean);
    }
    squares / excess
}

/// Standard deviation of ln(rate) between the deployments of one camera.
pub(super) fn between_deployments(deployments: &[&Deployment]) -> f64 {
    let mut cameras: BTreeMap<&str, Vec<Piece>> = BTreeMap::new();
    for deployment in deployments {
        let pieces = cameras.entry(&deployment.camera).or_default();
        pieces.push(Piece::of(&deployment.daily));
    }
    spread_of_ln(cameras.into_values())
}

/// The same between the first and the second half of a deployment.
pub(super) fn between_halves(deployments: &[&Deployment]) -> f64 {
    spread_of_ln(deployments.iter().map(|deployment| {
        let (first, second) = deployment.daily.split_at(deployment.daily.len() / 2);
        vec![Piece::of(first), Piece::of(second)]
    }))
}

/// How far the rates of a group's pieces lie apart beyond counting noise.
///
/// A piece of `d` days in a group of `D` days and mean rate `m` has events of variance
/// `d m + d m^2 (1 + v) / k + d^2 m^2 v` with `v` the squared relative spread of rates. Its distance from
/// `d m`, with `m` from the group itself, has the expected square
/// `V (1 - 2 d / D) + (d / D)^2 (sum of V)`. Summed over all, relative to the group's mean events per piece
/// of a day, that gives `v`; a lognormal rate then has the standard deviation `sqrt(ln(1 + v))`.
fn spread_of_ln(groups: impl Iterator<Item = Vec<Piece>>) -> f64 {
    let k = Counts::USUAL.dispersion;
    let (mut seen, mut noise, mut per_v) = (0.0, 0.0, 0.0);
    for group in groups {
        let days: f64 = group.iter().map(|piece| piece.days).sum();
        let rate = group.iter().map(|piece| piece.events).sum::<f64>() / days;
        if rate <= 0.0 {
            continue;
        }
        // Everything over rate^2, so that busy cameras weigh no more than quiet ones.
        let all_squares: f64 = group.iter().map(|piece| piece.days.powi(2)).sum();
        for piece in &group {
            let share = piece.days / days;
            seen += (piece.events / rate - piece.days).powi(2);
            noise += piece.days * (1.0 / rate + 1.0 / k) * (1.0 - share);
            per_v += piece.days * (1.0 - share) / k
                + piece.days.powi(2) * (1.0 - 2.0 * share)
                + share.powi(2) * all_squares;
        }
    }
    ((seen - noise) / per_v).max(0.0).ln_1p().sqrt()
}
