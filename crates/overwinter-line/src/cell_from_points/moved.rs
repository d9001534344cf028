//! What a fit has moved.

use overwinter_model::cell::Cell;

use crate::fit::Knob;

/// A parameter before and after.
#[derive(Clone, Debug, PartialEq)]
pub struct Move {
    /// For a person.
    pub what: &'static str,
    /// A key of the cell file, with its section.
    pub key: &'static str,
    /// Unit of both values.
    pub unit: &'static str,
    /// In the cell that it started from.
    pub from: f64,
    /// In the fitted cell.
    pub to: f64,
}

/// Every parameter that has a single value.
const SINGLE: [(Knob, &str, &str, &str); 16] = [
    (Knob::Capacity, "capacity", "capacity_mah", "mAh"),
    (
        Knob::OhmicFresh,
        "resistance at once, fresh",
        "ohmic.fresh_ohm",
        "ohm",
    ),
    (Knob::OhmicGrowth, "its growth", "ohmic.growth", ""),
    (
        Knob::OhmicLateGrowth,
        "its late growth",
        "ohmic.late_growth",
        "",
    ),
    (
        Knob::OhmicActivation,
        "resistance at once, in the cold",
        "ohmic.activation_k",
        "K",
    ),
    (
        Knob::BranchFresh(0),
        "quick branch, fresh",
        "branch.fresh_ohm",
        "ohm",
    ),
    (
        Knob::BranchActivation(0),
        "quick branch, in the cold",
        "branch.activation_k",
        "K",
    ),
    (
        Knob::BranchFresh(1),
        "slow branch, fresh",
        "branch.fresh_ohm",
        "ohm",
    ),
    (
        Knob::BranchActivation(1),
        "slow branch, in the cold",
        "branch.activation_k",
        "K",
    ),
    (
        Knob::AvailableShare,
        "charge within reach at once",
        "kinetics.available_share",
        "",
    ),
    (
        Knob::LevellingRate,
        "rate at which the rest follows",
        "kinetics.rate_per_s",
        "1/s",
    ),
    (
        Knob::LevellingActivation,
        "that rate, in the cold",
        "kinetics.activation_k",
        "K",
    ),
    (
        Knob::LossPerYear,
        "self-discharge",
        "storage.loss_per_year",
        "1/a",
    ),
    (
        Knob::EarlyLoss,
        "early self-discharge",
        "storage.early_loss",
        "",
    ),
    (Knob::EarlyTime, "its time", "storage.early_time_d", "d"),
    (
        Knob::StorageActivation,
        "self-discharge, in the cold",
        "storage.activation_k",
        "K",
    ),
];

/// Less than this share of a parameter is the grain of the digits.
const GRAIN: f64 = 0.005;

/// Less than this of the open-circuit voltage is, volts.
const GRAIN_V: f64 = 0.0015;

/// Every parameter that differs by more than the grain of its digits, the doubt of the resistances if it
/// became less, and of the open-circuit voltage the value that moved most.
#[must_use]
pub fn moves(from: &Cell, to: &Cell) -> Vec<Move> {
    let single = SINGLE.iter().map(|&(knob, what, key, unit)| Move {
        what,
        key,
        unit,
        from: knob.read(from),
        to: knob.read(to),
    });
    let mut moves: Vec<Move> = single
        .filter(|m| (m.to - m.from).abs() > GRAIN * m.from.abs())
        .collect();
    let [doubted, known] = [from, to].map(|cell| cell.beyond_points.resistance);
    if known < (1.0 - GRAIN) * doubted {
        moves.push(Move {
            what: "doubt of resistances, for each step",
            key: "beyond_points.resistance",
            unit: "",
            from: doubted,
            to: known,
        });
    }
    let volts = from.open_circuit.volts.iter().zip(to.open_circuit.volts);
    let most = volts
        .map(|(from, to)| (*from, to))
        .max_by(|(a, b), (c, d)| (b - a).abs().total_cmp(&(d - c).abs()));
    if let Some((from, to)) = most
        && (to - from).abs() > GRAIN_V
    {
        moves.push(Move {
            what: "open-circuit voltage, where it moved most",
            key: "open_circuit.volts",
            unit: "V",
            from,
            to,
        });
    }
    moves
}
