//! The command line: flags to validated requests, requests to answers.

mod catalogue;
mod decisions;
mod discharge;
mod embed;
mod files;
mod solar;
mod sun;
mod values;

use std::io::Write;
use std::path::PathBuf;

use clap::{Args, CommandFactory, Parser, Subcommand};
use time::Date;

use crate::command::{check, compare, forecast, sweep};
use crate::host::host;
use crate::notice;
use crate::plot;
use catalogue::{CatalogueArgs, run_catalogue};
use decisions::{OddsArgs, RevisitArgs, SettingsArgs, run_revisit, run_settings};
use discharge::{DischargeArgs, run_discharge};
use embed::{EmbedArgs, run_embed};
use files::{FileArgs, check_picture, in_place_of_answer, write_picture};
use overwinter_line::answer;
use overwinter_line::answer::check::CheckRequest;
use overwinter_line::answer::forecast::ForecastRequest;
use overwinter_line::answer::request::{Asked, LineRequest};
use overwinter_line::answer::sweep::{Sweep, SweepRequest};
use overwinter_line::line::Line;
use overwinter_line::odds::Paths;
use overwinter_line::problem::Failure;
use solar::{SolarArgs, run_solar};
use sun::{SunArgs, run_sun};
use values::{in_range, parse_date, parse_seed};

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
    // Without this a negative number is taken for a flag, and refused with advice that misleads.
    #[command(allow_negative_numbers = true)]
    Forecast(ForecastArgs),
    /// The same line on other cells, side by side, with cost
    #[command(allow_negative_numbers = true)]
    Compare(CompareArgs),
    /// The line's days over a range or list of values of any key of its file, or of two
    #[command(allow_negative_numbers = true)]
    Sweep(SweepArgs),
    /// What each setting costs in days, one changed at a time; what uses the charge
    #[command(allow_negative_numbers = true)]
    Settings(SettingsArgs),
    /// The smallest panel and store that carry each camera, with stated odds; a map of both
    #[command(allow_negative_numbers = true)]
    Solar(SolarArgs),
    /// The latest day to be back at a stated risk, and how many visits the season takes
    #[command(allow_negative_numbers = true)]
    Revisit(RevisitArgs),
    /// A bench test of one cell: current, power, resistance or profile down to a cut-off
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
    #[command(flatten)]
    files: FileArgs,
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
    #[command(flatten)]
    files: FileArgs,
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
    #[arg(long, value_name = "N", default_value_t = 1, value_parser = parse_seed)]
    seed: u64,
    #[command(flatten)]
    output: JsonArgs,
    /// Every row as a file with commas
    #[arg(long, value_name = "FILE.csv")]
    csv: Option<PathBuf>,
    /// Days over the values, as a picture: lines, or for two keys a map
    #[arg(long, value_name = "FILE.svg|png")]
    plot: Option<PathBuf>,
    #[command(flatten)]
    files: FileArgs,
}

#[derive(Debug, Args)]
struct CheckArgs {
    #[command(flatten)]
    line: LineArgs,
    #[command(flatten)]
    odds: OddsArgs,
    #[command(flatten)]
    output: JsonArgs,
}

/// Runs what the command line asks for and prints its answer on `out`.
///
/// # Errors
/// [`Failure`], for the caller to print and to turn into an exit code.
pub fn run(cli: &Cli, out: &mut dyn Write) -> Result<(), Failure> {
    let answer = match &cli.command {
        Command::Forecast(args) => run_forecast(args)?.into(),
        Command::Compare(args) => run_compare(args)?.into(),
        Command::Sweep(args) => run_sweep(args)?,
        Command::Settings(args) => run_settings(args)?.into(),
        Command::Solar(args) => run_solar(args)?.into(),
        Command::Revisit(args) => run_revisit(args)?.into(),
        Command::Discharge(args) => run_discharge(args)?.into(),
        Command::Catalogue(args) => run_catalogue(args)?,
        Command::Embed(args) => run_embed(args)?,
        Command::Check(args) => run_check(args)?.into(),
        Command::Sun(args) => run_sun(args)?.into(),
        Command::Completions { shell } => completions(*shell).into(),
        Command::Manual => manual()?.into(),
    };
    print(out, &answer)
}

/// Prints to somebody who may have stopped reading, which is no fault.
fn print(out: &mut dyn Write, bytes: &[u8]) -> Result<(), Failure> {
    match out.write_all(bytes).and_then(|()| out.flush()) {
        Err(why) if why.kind() != std::io::ErrorKind::BrokenPipe => {
            Err(Failure::Run(format!("the answer cannot be printed: {why}")))
        }
        _ => Ok(()),
    }
}

impl LineArgs {
    fn request(&self) -> LineRequest {
        LineRequest {
            path: self.line.clone(),
            cameras: self.camera.clone(),
        }
    }
}

/// Reads a line, and says on standard error what can be read in it and was hardly meant so.
fn read(request: &LineRequest) -> Result<Asked<'static>, Failure> {
    let asked = request.read(&host())?;
    say(&asked.doubts);
    Ok(asked)
}

/// Says doubts on standard error.
fn say(doubts: &[String]) {
    for doubt in doubts {
        notice::warn(doubt, None);
    }
}

/// A line with only the cameras that were asked for; what looks doubtful in it is said.
fn load(args: &LineArgs) -> Result<Line, Failure> {
    read(&args.request()).map(|asked| asked.line)
}

fn run_forecast(args: &ForecastArgs) -> Result<String, Failure> {
    let plot = args.files.picture(args.plot.as_deref())?;
    let request = ForecastRequest {
        line: args.line.request(),
        paths: (!args.expected).then(|| args.odds.paths()),
        by: args.by.clone(),
        course: plot.is_some().then_some(plot::MOST_CAMERAS),
    };
    let line = read(&request.line)?.line;
    check_picture(plot.as_ref())?;
    let answer = answer::forecast::answer(&line, &request, &host())?;
    if let Some(course) = &answer.course {
        write_picture(plot.as_ref(), || plot::forecast(&answer, course))?;
    }
    Ok(if args.output.json {
        forecast::json(&answer)
    } else {
        forecast::text(&answer)
    })
}

fn run_compare(args: &CompareArgs) -> Result<String, Failure> {
    let plot = args.files.picture(args.plot.as_deref())?;
    let cells = answer::compare::find_cells(&args.cells, host().files)?;
    let line = load(&args.line)?;
    check_picture(plot.as_ref())?;
    let answer = answer::compare::answer(&line, &cells, args.odds.paths(), &host())?;
    write_picture(plot.as_ref(), || plot::compare(&compare::bars(&answer)))?;
    Ok(if args.output.json {
        compare::json(&answer)
    } else {
        compare::text(&answer)
    })
}

fn run_sweep(args: &SweepArgs) -> Result<Vec<u8>, Failure> {
    let plot = args.files.picture(args.plot.as_deref())?;
    let csv = args.csv.as_deref();
    let csv = csv.map(|path| sweep::csv_output(path, args.files.force));
    let csv = csv.transpose()?;
    let request = SweepRequest {
        line: args.line.request(),
        vary: args.vary.clone(),
        paths: Paths {
            count: args.paths,
            seed: args.seed,
        },
    };
    let axes = answer::sweep::parse_axes(&request.vary)?;
    let Asked { file, line, .. } = read(&request.line)?;
    let sweep = Sweep::new(file, line, axes, request.paths, &host())?;
    check_picture(plot.as_ref())?;
    let csv_as_answer = in_place_of_answer(csv.as_ref(), &args.output)?;
    if let (Some(plot), Some(csv)) = (&plot, &csv) {
        plot.output().check_apart(csv)?;
    }
    let answer = sweep.answer(&host())?;
    write_picture(plot.as_ref(), || {
        plot::sweep(&sweep::picture_contents(&answer))
    })?;
    if let Some(csv) = csv {
        let table = sweep::csv(&answer)?;
        if csv_as_answer {
            return Ok(table);
        }
        csv.write(&table)?;
    }
    let told = if args.output.json {
        sweep::json(&answer)
    } else {
        sweep::text(&answer)
    };
    Ok(told.into())
}

fn run_check(args: &CheckArgs) -> Result<String, Failure> {
    let request = CheckRequest {
        line: args.line.request(),
        paths: args.odds.paths(),
    };
    // What looks doubtful is among its findings.
    let line = request.line.read(&host())?.line;
    let answer = answer::check::answer(&line, &request, &host())?;
    Ok(if args.output.json {
        check::json(&answer)
    } else {
        check::text(&answer)
    })
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
