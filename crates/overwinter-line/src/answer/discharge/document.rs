//! The answer: how bench tests went.

use overwinter_model::bench::EndReason;
use overwinter_model::{Charge, Voltage};
use serde::{Serialize, Serializer};

use super::{BenchResult, BenchTest, at_once, notes};
use crate::answer::document::{Rounded, WarningDocument};
use crate::cells::NamedCell;

/// The answer.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Discharge {
    /// What a script reads.
    pub document: DischargeDocument,
    /// What is said and drawn beyond that, for each test.
    pub details: Vec<BenchDetails>,
}

/// Bench tests: the one alone, several as `{"cells": […]}`.
#[derive(Clone, Debug, PartialEq)]
pub struct DischargeDocument(pub Vec<BenchDocument>);

impl Serialize for DischargeDocument {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        #[derive(Serialize)]
        struct Several<'a> {
            cells: &'a [BenchDocument],
        }
        match self.0.as_slice() {
            [one] => one.serialize(serializer),
            cells => Several { cells }.serialize(serializer),
        }
    }
}

/// A bench test of a cell.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct BenchDocument {
    /// The cell's name.
    pub cell: String,
    /// Temperature at the end.
    pub temperature_c: Rounded<3>,
    /// Temperature over the time of the test.
    pub temperature_profile: Vec<TemperatureAt>,
    /// Voltage at which the test ends.
    pub cutoff_v: Rounded<4>,
    /// Hours under load.
    pub hours: Rounded<6>,
    /// Hours from the start to the end.
    pub elapsed_hours: Rounded<6>,
    /// Charge delivered.
    pub delivered_mah: Rounded<4>,
    /// Energy delivered.
    pub delivered_wh: Rounded<6>,
    /// The same as a share of what the cell holds.
    pub energy_share: Rounded<5>,
    /// Why it ended.
    pub end_reason: &'static str,
    /// What has to be said about it.
    pub warnings: Vec<WarningDocument>,
    /// How many pulses, where the load has any.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub pulses: Option<u32>,
}

/// A temperature at a time of a test.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct TemperatureAt {
    /// Since the start.
    pub hours: Rounded<6>,
    /// The temperature.
    pub temperature_c: Rounded<3>,
}

/// What is said and drawn of a test beyond its document.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct BenchDetails {
    /// Voltage at which the test ends.
    pub cut_off: Voltage,
    /// The load ended the test before anything was delivered.
    pub at_once: bool,
    /// Voltage under load against charge delivered.
    pub curve: Vec<(Charge, Voltage)>,
}

impl Discharge {
    /// Out of tests and how they went.
    pub(super) fn of(tests: Vec<(&NamedCell, BenchTest, BenchResult)>) -> Self {
        let documents = tests
            .iter()
            .map(|(entry, test, result)| document(entry, test, result));
        Self {
            document: DischargeDocument(documents.collect()),
            details: tests
                .into_iter()
                .map(|(_, test, result)| BenchDetails {
                    cut_off: test.cut_off,
                    at_once: at_once(&result),
                    curve: result.curve,
                })
                .collect(),
        }
    }
}

fn document(entry: &NamedCell, test: &BenchTest, result: &BenchResult) -> BenchDocument {
    let progress = &result.progress;
    let full = entry.cell.energy_left(&entry.cell.full());
    let profile = test.air.points().iter().map(|(at, air)| TemperatureAt {
        hours: Rounded(at.as_hours()),
        temperature_c: Rounded(air.as_celsius()),
    });
    let notes = notes(entry, test, result).into_iter();
    BenchDocument {
        cell: entry.name.clone(),
        temperature_c: Rounded(test.air.at(progress.elapsed).as_celsius()),
        temperature_profile: profile.collect(),
        cutoff_v: Rounded(test.cut_off.as_volts()),
        hours: Rounded(progress.under_load.as_hours()),
        elapsed_hours: Rounded(progress.elapsed.as_hours()),
        delivered_mah: Rounded(progress.delivered.as_milliampere_hours()),
        delivered_wh: Rounded(progress.energy.as_watt_hours()),
        energy_share: Rounded(progress.energy / full),
        end_reason: match result.reason {
            EndReason::CutOff => "cut-off",
            EndReason::Overload => "overload",
            EndReason::Empty => "empty",
            EndReason::Finished => "horizon",
        },
        warnings: notes
            .map(|(kind, text)| WarningDocument { kind, text })
            .collect(),
        pulses: test.duty.has_pulses().then_some(progress.pulses),
    }
}
