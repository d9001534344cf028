//! Cases of the Thevenin model, driven by the bench.

use overwinter_model::bench::{EndReason, Progress, discharge};
use overwinter_model::{Charge, Voltage};
use serde::Deserialize;
use serde_json::Value;

use crate::load::{CaseLoad, Piece};
use crate::results::Results;
use crate::source::{Parameters, TableSource, Thermal};
use crate::table::Table;
use crate::verdict::Verdict;

// What is asked of an implementation; the two reference solutions agree far closer.
const VOLTAGE: f64 = 1e-3;
const END: f64 = 1e-3;
const STATE_OF_CHARGE: f64 = 1e-4;
const CELL_C: f64 = 0.05;

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Case {
    #[serde(rename = "title")]
    _title: Option<String>,
    capacity_ah: f64,
    initial_soc: f64,
    ocv: OpenCircuit,
    r0_ohm: ByTemperature,
    r1_ohm: ByTemperature,
    c1_f: f64,
    cutoff_v: f64,
    ambient: Ambient,
    thermal: Option<Thermal>,
    load: CaseLoad,
    horizon_s: f64,
    /// How the results were sampled; the results say when.
    #[serde(rename = "samples")]
    _samples: Option<Value>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct OpenCircuit {
    soc: Vec<f64>,
    volt: Vec<f64>,
}

#[derive(Deserialize)]
#[serde(untagged, deny_unknown_fields)]
enum ByTemperature {
    Constant(f64),
    Table {
        temperature_c: Vec<f64>,
        value: Vec<f64>,
    },
}

#[derive(Deserialize)]
#[serde(tag = "type", rename_all = "snake_case", deny_unknown_fields)]
enum Ambient {
    Constant {
        temperature_c: f64,
    },
    Table {
        time_s: Vec<f64>,
        temperature_c: Vec<f64>,
    },
}

#[derive(Deserialize)]
struct Sample {
    time_s: f64,
    voltage_v: f64,
    soc: f64,
    #[serde(default)]
    cell_c: Option<f64>,
}

#[derive(Deserialize)]
struct Summary {
    ended_by: String,
    end_time_s: f64,
    delivered_ah: f64,
}

/// One case at hand: what to run.
struct Run {
    parameters: Parameters,
    initial_soc: f64,
    cut_off: Voltage,
    pieces: Vec<Piece>,
}

/// Replays one case and compares it, or says why it cannot be compared.
pub(crate) fn replay(case: Value, results: &Results, verdict: &mut Verdict) -> Result<(), String> {
    let case: Case = serde_json::from_value(case).map_err(|why| why.to_string())?;
    let samples: Vec<Sample> = results.trajectory()?;
    let summary: Summary = results.summary("thevenin")?;
    let one_period = case.load.one_period();
    let run = Run {
        pieces: case.load.pieces(case.horizon_s)?,
        initial_soc: case.initial_soc,
        cut_off: Voltage::from_volts(case.cutoff_v),
        parameters: parameters(case)?,
    };
    compare_end(&run, one_period, &summary, &results.case, verdict);
    compare_samples(&run, &samples, &results.case, verdict);
    Ok(())
}

fn parameters(case: Case) -> Result<Parameters, String> {
    let positive = |name: &str, value: f64| {
        (value > 0.0)
            .then_some(value)
            .ok_or_else(|| format!("{name} must be above zero, got {value}"))
    };
    Ok(Parameters {
        capacity: Charge::from_ampere_hours(positive("capacity_ah", case.capacity_ah)?),
        open_circuit_v: Table::new(&case.ocv.soc, &case.ocv.volt)?,
        ohmic_ohm: case.r0_ohm.table()?,
        slow_ohm: case.r1_ohm.table()?,
        slow_f: positive("c1_f", case.c1_f)?,
        ambient_c: match case.ambient {
            Ambient::Constant { temperature_c } => Table::constant(temperature_c),
            Ambient::Table {
                time_s,
                temperature_c,
            } => Table::new(&time_s, &temperature_c)?,
        },
        thermal: case.thermal,
    })
}

impl ByTemperature {
    fn table(&self) -> Result<Table, String> {
        let ohms = match self {
            Self::Constant(ohms) => std::slice::from_ref(ohms),
            Self::Table { value, .. } => value,
        };
        if !ohms.iter().all(|&ohms| ohms > 0.0) {
            return Err("a resistance must be above zero".to_owned());
        }
        match self {
            Self::Constant(ohms) => Ok(Table::constant(*ohms)),
            Self::Table {
                temperature_c,
                value,
            } => Table::new(temperature_c, value),
        }
    }
}

/// The end, with the loads as they are.
fn compare_end(
    run: &Run,
    (period_s, period_ah): (f64, f64),
    summary: &Summary,
    case: &str,
    verdict: &mut Verdict,
) {
    let mut source = TableSource::new(&run.parameters, run.initial_soc);
    let segments = run.pieces.iter().map(Piece::segment);
    let (end, reason) = discharge(&mut source, segments, run.cut_off, |_| {});
    let ended_by = match reason {
        EndReason::CutOff => "cutoff",
        EndReason::Finished => "horizon",
        EndReason::Overload => "overload",
        EndReason::Empty => "empty",
    };
    verdict.same(case, "ended_by", &summary.ended_by, ended_by);
    let mut compare = |quantity, reference: f64, ours, one_period: f64| {
        let allowed = END.max(one_period / reference);
        verdict.relative(case, quantity, reference, ours, allowed);
    };
    let delivered_ah = end.delivered.as_ampere_hours();
    compare(
        "end_time_s",
        summary.end_time_s,
        end.elapsed.as_seconds(),
        period_s,
    );
    compare(
        "delivered_ah",
        summary.delivered_ah,
        delivered_ah,
        period_ah,
    );
}

/// The samples, with the loads cut where a sample is due: so the driver's own state is compared,
/// not an interpolation between its steps.
fn compare_samples(run: &Run, samples: &[Sample], case: &str, verdict: &mut Verdict) {
    let mut source = TableSource::new(&run.parameters, run.initial_soc);
    let mut due = samples.iter().peekable();
    let lasts = |source: &mut TableSource<'_>, piece: Piece| {
        let (progress, reason) = discharge(source, [piece.segment()], run.cut_off, |_| {});
        (reason == EndReason::Finished).then_some(progress)
    };
    'run: for &piece in &run.pieces {
        let mut left = piece;
        while let Some(sample) = due.next_if(|sample| sample.time_s <= piece.to_s) {
            let to_sample = Piece {
                to_s: sample.time_s,
                ..left
            };
            let Some(progress) = lasts(&mut source, to_sample) else {
                verdict.points.skip(case, &too_late(sample));
                break 'run;
            };
            compare_sample(sample, &progress, &source, case, verdict);
            left.from_s = sample.time_s;
        }
        if lasts(&mut source, left).is_none() {
            break;
        }
    }
    for sample in due {
        verdict.points.skip(case, &too_late(sample));
    }
}

fn too_late(sample: &Sample) -> String {
    format!("ended before the sample at {} s", sample.time_s)
}

fn compare_sample(
    sample: &Sample,
    progress: &Progress,
    source: &TableSource<'_>,
    case: &str,
    verdict: &mut Verdict,
) {
    let mut compare = |quantity: &str, reference, ours, allowed| {
        let quantity = format!("{quantity} at {} s", sample.time_s);
        verdict.absolute(case, &quantity, reference, ours, allowed);
    };
    compare(
        "voltage_v",
        sample.voltage_v,
        progress.voltage.as_volts(),
        VOLTAGE * sample.voltage_v,
    );
    compare("soc", sample.soc, source.state_of_charge(), STATE_OF_CHARGE);
    if let Some(cell_c) = sample.cell_c {
        compare("cell_c", cell_c, source.cell_c(), CELL_C);
    }
}
