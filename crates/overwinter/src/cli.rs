//! The command line: flags to validated requests, requests to answers.

mod decisions;
mod embed;
mod sun;

use std::io::{IsTerminal, Write};
use std::path::PathBuf;

use clap::{Args, CommandFactory, Parser, Subcommand};
use overwinter_model::bench::{Duty, DutyError, TemperatureProfile};
use overwinter_model::{Current, Load, Power, Resistance, Temperature, Time, Voltage};
use time::Date;

use crate::cells::NamedCell;
use crate::command::sweep::{self, Sweep};
use crate::command::{catalogue, check, compare, discharge, forecast, own_cell};
use crate::line::{self, Line, LineFile};
use crate::odds::Paths;
use crate::output::{check_place, write_whole};
use crate::own;
use crate::plot::{self, Picture};
use crate::points::{parse_profile, parse_temperatures};
use crate::problem::{Failure, suggest};
use crate::progress::Progress;
use decisions::{OddsArgs, RevisitArgs, SettingsArgs, run_revisit, run_settings};
use embed::{EmbedArgs, run_embed};
use sun::{SunArgs, run_sun};

/// How long each camera of a line lasts through the cold, and why.
#[derive(Debug, Parser)]
#[command(name = "overwinter", version, max_term_width = 100)]
pub struct Cli {
    #[command(subcommand)]
    command: Command,
}

#[derive(Debug, Subcommand)]
enum Command {
    /// Days to depletion of each camera: night pictures lost, dead, why, and what used the charge
    Forecast(ForecastArgs),
    /// The same line on other cells, side by side, with cost
    Compare(CompareArgs),
    /// The line's days over a range or list of values of any key of its file, or of two
    Sweep(SweepArgs),
    /// What each setting costs in days, one changed at a time; what uses the charge
    Settings(SettingsArgs),
    /// The latest day to be back at a stated risk, and how many visits the season takes
    Revisit(RevisitArgs),
    /// A bench test of one cell: current, power, resistance or profile down to a cut-off
    // Without this a negative number is taken for a flag, and refused with advice that misleads.
    #[command(allow_negative_numbers = true)]
    Discharge(DischargeArgs),
    /// The sun over the season: daylight, where it rises and sets, when it stands in a lens
    #[command(allow_negative_numbers = true)]
    Sun(SunArgs),
    /// The cells, and what they rest on; or a cell of your own, from your points
    Catalogue(CatalogueArgs),
    /// A camera's season as checked bytes for a microcontroller; or what such bytes hold
    Embed(EmbedArgs),
    /// Everything that looks wrong or risky in a line
    Check(CheckArgs),
    /// Shell completions on standard output
    Completions {
        /// Which shell
        shell: clap_complete::Shell,
    },
    /// The manual page on standard output
    Manual,
}

#[derive(Debug, Args)]
struct JsonArgs {
    /// One JSON document in place of text
    #[arg(long)]
    json: bool,
}

#[derive(Debug, Args)]
struct LineArgs {
    /// The line file (TOML)
    line: PathBuf,
    /// Only this camera; may be given several times
    #[arg(long, value_name = "NAME")]
    camera: Vec<String>,
}

#[derive(Debug, Args)]
struct ForecastArgs {
    #[command(flatten)]
    line: LineArgs,
    #[command(flatten)]
    odds: OddsArgs,
    /// The odds at the end of this day (2027-02-12); may be given several times
    #[arg(long, value_name = "DATE", value_parser = parse_date, conflicts_with = "expected")]
    by: Vec<Date>,
    /// Only the expected path, without odds
    #[arg(long)]
    expected: bool,
    #[command(flatten)]
    output: JsonArgs,
    /// Charge left and what still works over the season, as a picture; with --expected the voltage
    #[arg(long, value_name = "FILE.svg|png")]
    plot: Option<PathBuf>,
}

#[derive(Debug, Args)]
struct CompareArgs {
    #[command(flatten)]
    line: LineArgs,
    /// Names out of the catalogue or cell files (.toml), with commas between
    #[arg(long, value_delimiter = ',', required = true, value_name = "A,B")]
    cells: Vec<String>,
    #[command(flatten)]
    odds: OddsArgs,
    #[command(flatten)]
    output: JsonArgs,
    /// Days by cell as bars, as a picture
    #[arg(long, value_name = "FILE.svg|png")]
    plot: Option<PathBuf>,
}

#[derive(Debug, Args)]
struct SweepArgs {
    #[command(flatten)]
    line: LineArgs,
    /// A key of the line file and its values, from:to:step or a list; twice for a map of two keys
    #[arg(long, required = true, value_name = "KEY=from:to:step|a,b,c")]
    vary: Vec<String>,
    /// How many seasons are sampled at each point
    #[arg(long, value_name = "N", default_value_t = 200,
        value_parser = clap::value_parser!(u32).range(1..=100_000))]
    paths: u32,
    /// The same seed gives the same answer
    #[arg(long, value_name = "N", default_value_t = 1)]
    seed: u64,
    #[command(flatten)]
    output: JsonArgs,
    /// Every row as a file with commas
    #[arg(long, value_name = "FILE.csv")]
    csv: Option<PathBuf>,
    /// Days over the values, as a picture: lines, or for two keys a map
    #[arg(long, value_name = "FILE.svg|png")]
    plot: Option<PathBuf>,
}

#[derive(Debug, Args)]
struct CatalogueArgs {
    /// Fits a cell of your own to the points and data-sheet numbers of this file
    #[arg(long, value_name = "POINTS.toml")]
    from: Option<PathBuf>,
    /// Writes that cell as a cell file, to be named wherever a cell is named
    #[arg(short, long, value_name = "CELL.toml", requires = "from")]
    output: Option<PathBuf>,
    #[command(flatten)]
    form: JsonArgs,
}

#[derive(Debug, Args)]
struct CheckArgs {
    #[command(flatten)]
    line: LineArgs,
    #[command(flatten)]
    output: JsonArgs,
}

#[derive(Debug, Args)]
struct DischargeArgs {
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

/// Runs what the command line asks for and prints its answer on `out`.
///
/// # Errors
/// [`Failure`], for the caller to print and to turn into an exit code.
pub fn run(cli: &Cli, out: &mut dyn Write) -> Result<(), Failure> {
    let answer = match &cli.command {
        Command::Forecast(args) => run_forecast(args)?,
        Command::Compare(args) => run_compare(args)?,
        Command::Sweep(args) => run_sweep(args)?,
        Command::Settings(args) => run_settings(args)?,
        Command::Revisit(args) => run_revisit(args)?,
        Command::Discharge(args) => run_discharge(args)?,
        Command::Catalogue(args) => run_catalogue(args)?,
        Command::Embed(args) => run_embed(args)?,
        Command::Check(args) => run_check(args)?,
        Command::Sun(args) => run_sun(args)?,
        Command::Completions { shell } => completions(*shell),
        Command::Manual => manual()?,
    };
    print(out, answer.as_bytes())
}

/// Prints to somebody who may have stopped reading.
fn print(out: &mut dyn Write, bytes: &[u8]) -> Result<(), Failure> {
    let written = out.write_all(bytes).and_then(|()| out.flush());
    written.map_err(|why| match why.kind() {
        std::io::ErrorKind::BrokenPipe => Failure::ClosedPipe,
        _ => Failure::Run(format!("the answer cannot be printed: {why}")),
    })
}

/// A line with only the cameras that were asked for.
fn load(args: &LineArgs) -> Result<Line, Failure> {
    only(line::load(&args.line)?, &args.camera)
}

/// Only the cameras of those names, or all if none is named.
fn only(mut line: Line, names: &[String]) -> Result<Line, Failure> {
    for name in names {
        if line.cameras.iter().all(|camera| camera.name != *name) {
            let known: Vec<&str> = line.cameras.iter().map(|c| c.name.as_str()).collect();
            return Err(Failure::request(
                format!("the line has no camera `{name}`"),
                suggest(name, &known),
            ));
        }
    }
    if !names.is_empty() {
        line.cameras.retain(|camera| names.contains(&camera.name));
    }
    Ok(line)
}

/// Writes a picture if one was asked for. Its name is checked before the work begins, by
/// [`checked`].
fn draw(plot: Option<&PathBuf>, picture: impl FnOnce() -> Picture) -> Result<(), Failure> {
    plot.map_or(Ok(()), |path| plot::write(path, &picture()))
}

/// A picture's name that can be written.
fn checked(plot: Option<&PathBuf>) -> Result<Option<&PathBuf>, Failure> {
    plot.map(|path| plot::check_path(path).map(|()| path))
        .transpose()
}

/// A date as in a line file.
fn parse_date(text: &str) -> Result<Date, String> {
    Date::parse(
        text,
        &time::macros::format_description!("[year]-[month]-[day]"),
    )
    .map_err(|_| "expected a date like 2027-02-12".to_owned())
}

fn run_forecast(args: &ForecastArgs) -> Result<String, Failure> {
    let plot = checked(args.plot.as_ref())?;
    let line = load(&args.line)?;
    let runs = forecast::run(&line)?;
    let sampled = if args.expected {
        None
    } else {
        Some(forecast::sample(&line, args.odds.paths(), args.by.clone())?)
    };
    let odds = sampled.as_ref().map(|sampled| &sampled.odds);
    draw(plot, || plot::forecast(&line, &runs, odds))?;
    Ok(if args.output.json {
        forecast::json(&line, &runs, sampled.as_ref())
    } else {
        forecast::text(&line, &runs, sampled.as_ref())
    })
}

fn run_compare(args: &CompareArgs) -> Result<String, Failure> {
    let plot = checked(args.plot.as_ref())?;
    let cells = compare::find_cells(&args.cells)?;
    let line = load(&args.line)?;
    let compared = compare::run(&line, &cells, args.odds.paths())?;
    draw(plot, || plot::compare(&compare::bars(&line, &compared)))?;
    Ok(if args.output.json {
        compare::json(&line, &compared)
    } else {
        compare::text(&line, &compared)
    })
}

fn run_sweep(args: &SweepArgs) -> Result<String, Failure> {
    let plot = checked(args.plot.as_ref())?;
    let csv = args.csv.as_deref();
    csv.map_or(Ok(()), sweep::check_csv_path)?;
    let axes = sweep::parse_axes(&args.vary)?;
    let mut file = LineFile::open(&args.line.line)?;
    let line = only(file.line()?, &args.line.camera)?;
    file.keep_cameras_of(&line);
    let paths = Paths {
        count: args.paths,
        seed: args.seed,
    };
    let sweep = Sweep::new(file, line, axes, paths)?;
    for path in plot.map(PathBuf::as_path).into_iter().chain(csv) {
        check_place(path)?;
    }
    let progress = Progress::new(sweep.points(), "points");
    let rows = sweep.run(&|| progress.advance(1))?;
    drop(progress);
    if let Some(path) = csv {
        write_whole(path, &sweep::csv(&sweep, &rows)?)?;
    }
    draw(plot, || plot::sweep(&sweep::drawing(&sweep, &rows)))?;
    Ok(if args.output.json {
        sweep::json(&sweep, &rows)
    } else {
        sweep::text(&sweep, &rows)
    })
}

fn run_check(args: &CheckArgs) -> Result<String, Failure> {
    let line = load(&args.line)?;
    let sampled = forecast::sample(&line, check::PATHS, Vec::new())?;
    let findings = check::findings(&line, &forecast::run(&line)?, &sampled);
    Ok(if args.output.json {
        check::json(&line, &findings)
    } else {
        check::text(&line, &findings)
    })
}

fn run_catalogue(args: &CatalogueArgs) -> Result<String, Failure> {
    let json = args.form.json;
    let Some(points) = &args.from else {
        return Ok(if json {
            catalogue::json()
        } else {
            catalogue::text()
        });
    };
    let file = args.output.as_deref();
    file.map_or(Ok(()), own_cell::check_path)?;
    let own = own::load(points)?;
    let fitted = own_cell::run(own, &own_cell::watch_on_terminal())?;
    if let Some(file) = file {
        own_cell::write(file, points, &fitted)?;
    }
    Ok(if json {
        own_cell::json(&fitted, file)
    } else {
        own_cell::text(&fitted, file)
    })
}

fn run_discharge(args: &DischargeArgs) -> Result<String, Failure> {
    let plot = checked(args.plot.as_ref())?;
    let cells = compare::find_cells(&args.cells)?;
    let air = air(args)?;
    let duty = duty(args)?;
    let mut results = Vec::with_capacity(cells.len());
    for entry in cells {
        let test = discharge::BenchTest {
            duty: duty.clone(),
            air: air.clone(),
            cut_off: cut_off(args, &entry)?,
        };
        let result = discharge::run(&entry, &test)?;
        results.push((entry, test, result));
    }
    draw(plot, || plot::discharge(&discharge::curves(&results)))?;
    Ok(if args.output.json {
        discharge::json(&results)
    } else {
        discharge::text(&results)
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

/// The cut-off, which must lie below the cell's fresh voltage.
fn cut_off(args: &DischargeArgs, entry: &NamedCell) -> Result<Voltage, Failure> {
    let fresh = entry.cell.open_circuit.at(0.0) * f64::from(entry.cell.in_series);
    match args.cutoff_v {
        None => Ok(discharge::usual_cut_off(entry)),
        Some(volts) if (0.0..fresh.as_volts()).contains(&volts) => Ok(Voltage::from_volts(volts)),
        Some(volts) => Err(Failure::request(
            format!("--cutoff-v is {volts}, which is out of range"),
            format!(
                "expected 0 to {:.2}: {} has that fresh and without load",
                fresh.as_volts(),
                entry.name
            ),
        )),
    }
}

/// A flag's number within a range; neither NaN nor infinity is.
fn in_range(flag: &str, value: f64, low: f64, high: f64) -> Result<f64, Failure> {
    if (low..=high).contains(&value) {
        return Ok(value);
    }
    Err(Failure::request(
        format!("{flag} is {value}, which is out of range"),
        format!("expected {low} to {high}"),
    ))
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

fn completions(shell: clap_complete::Shell) -> String {
    let mut bytes = Vec::new();
    clap_complete::generate(shell, &mut Cli::command(), "overwinter", &mut bytes);
    String::from_utf8_lossy(&bytes).into_owned()
}

fn manual() -> Result<String, Failure> {
    let mut bytes = Vec::new();
    clap_mangen::Man::new(Cli::command())
        .render(&mut bytes)
        .map_err(|why| Failure::Run(format!("the manual cannot be made: {why}")))?;
    Ok(String::from_utf8_lossy(&bytes).into_owned())
}

/// Whether talk on standard error may be coloured.
#[must_use]
pub fn coloured() -> bool {
    std::io::stderr().is_terminal() && std::env::var_os("NO_COLOR").is_none()
}
