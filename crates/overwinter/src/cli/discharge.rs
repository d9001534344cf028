//! A bench test of one cell.

use std::path::PathBuf;

use clap::Args;
use overwinter_line::answer;
use overwinter_line::answer::discharge::DischargeRequest;
use overwinter_line::points::{parse_profile, parse_temperatures};
use overwinter_line::problem::Failure;
use overwinter_model::bench::{Duty, DutyError, TemperatureProfile};
use overwinter_model::{Current, Load, Power, Resistance, Temperature, Time, Voltage};

use super::{FileArgs, JsonArgs, check_picture, in_range, write_picture};
use crate::command::discharge;
use crate::host::host;
use crate::plot;

#[derive(Debug, Args)]
pub(super) struct DischargeArgs {
    /// Names out of the catalogue or cell files (.toml)
    #[arg(required = true, value_name = "CELL")]
    cells: Vec<String>,
    #[command(flatten)]
    load: LoadArgs,
    /// On for so many seconds of each period
    #[arg(long, value_name = "S", requires = "period_s")]
    on_s: Option<f64>,
    /// Length of the period, seconds
    #[arg(long, value_name = "S", requires = "on_s")]
    period_s: Option<f64>,
    /// On only for the first hours of each day
    #[arg(long, value_name = "H")]
    hours_per_day: Option<f64>,
    /// Temperature throughout, °C
    #[arg(long, value_name = "C", default_value_t = 20.0)]
    temp_c: f64,
    /// Temperature by the time since the start, straight lines between: for example 0h:20,2h:-10
    #[arg(long, value_name = "TIME:C,…", conflicts_with = "temp_c")]
    temp_profile: Option<String>,
    /// Voltage at which the test ends, of the whole battery [default: as tests of it usually have]
    #[arg(long, value_name = "V")]
    cutoff_v: Option<f64>,
    #[command(flatten)]
    output: JsonArgs,
    /// Voltage against delivered charge, as a picture
    #[arg(long, value_name = "FILE.svg|png")]
    plot: Option<PathBuf>,
    #[command(flatten)]
    files: FileArgs,
}

#[derive(Debug, Args)]
#[group(required = true, multiple = false)]
struct LoadArgs {
    /// Constant current, mA
    #[arg(long, value_name = "MA")]
    current_ma: Option<f64>,
    /// Constant power, mW
    #[arg(long, value_name = "MW")]
    power_mw: Option<f64>,
    /// A resistor, ohm
    #[arg(long, value_name = "OHM")]
    resistance_ohm: Option<f64>,
    /// Several phases, repeated: for example 1500mW:2s,650mW:28s
    #[arg(long, value_name = "LOAD:TIME,…")]
    profile: Option<String>,
}

pub(super) fn run_discharge(args: &DischargeArgs) -> Result<String, Failure> {
    let plot = args.files.picture(args.plot.as_deref())?;
    let cells = answer::compare::find_cells(&args.cells, host().files)?;
    check_picture(plot.as_ref())?;
    let request = DischargeRequest {
        cells: args.cells.clone(),
        air: air(args)?,
        duty: duty(args)?,
        cut_off: args.cutoff_v.map(Voltage::from_volts),
    };
    let answer = answer::discharge::answer(&cells, &request)?;
    write_picture(plot.as_ref(), || {
        plot::discharge(&discharge::curves(&answer))
    })?;
    Ok(if args.output.json {
        discharge::json(&answer)
    } else {
        discharge::text(&answer)
    })
}

/// The temperature over the time of a test.
fn air(args: &DischargeArgs) -> Result<TemperatureProfile, Failure> {
    if let Some(text) = &args.temp_profile {
        return parse_temperatures(text).map_err(|why| {
            Failure::request(format!("--temp-profile {why}"), "for example 0h:20,2h:-10")
        });
    }
    let celsius = in_range("--temp-c", args.temp_c, -60.0, 80.0)?;
    Ok(TemperatureProfile::constant(Temperature::from_celsius(
        celsius,
    )))
}

fn duty(args: &DischargeArgs) -> Result<Duty, Failure> {
    let refused = |why: DutyError| Failure::Request {
        message: why.to_string(),
        help: None,
    };
    let load = &args.load;
    let mut duty = if let Some(profile) = &load.profile {
        let phases = parse_profile(profile).map_err(|why| {
            Failure::request(
                format!("--profile {why}"),
                "for example 1500mW:2s,650mW:28s",
            )
        })?;
        Duty::profile(&phases).map_err(refused)?
    } else {
        Duty::continuous(steady_load(load)?)
    };
    if let (Some(on), Some(period)) = (args.on_s, args.period_s) {
        duty = duty
            .on_of_period(Time::from_seconds(on), Time::from_seconds(period))
            .map_err(refused)?;
    }
    if let Some(hours) = args.hours_per_day {
        duty = duty.per_day(Time::from_hours(hours)).map_err(refused)?;
    }
    Ok(duty)
}

fn steady_load(load: &LoadArgs) -> Result<Load, Failure> {
    if let Some(current) = load.current_ma {
        let current = in_range("--current-ma", current, 0.001, 100_000.0)?;
        return Ok(Load::Current(Current::from_milliamperes(current)));
    }
    if let Some(power) = load.power_mw {
        let power = in_range("--power-mw", power, 0.001, 1_000_000.0)?;
        return Ok(Load::Power(Power::from_milliwatts(power)));
    }
    // clap has seen to it that one of the loads is there.
    let ohms = in_range(
        "--resistance-ohm",
        load.resistance_ohm.unwrap_or(0.0),
        0.001,
        1e7,
    )?;
    Ok(Load::Resistance(Resistance::from_ohms(ohms)))
}
