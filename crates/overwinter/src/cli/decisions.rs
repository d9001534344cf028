//! Flags of the commands that decide by odds.

use std::path::PathBuf;

use clap::Args;
use overwinter_line::answer;
use overwinter_line::answer::revisit::RevisitRequest;
use overwinter_line::answer::settings::SettingsRequest;
use overwinter_line::odds::Paths;
use overwinter_line::problem::Failure;

use super::{FileArgs, JsonArgs, LineArgs, check_picture, parse_seed, read, write_picture};
use crate::command::{revisit, settings};
use crate::host::host;
use crate::plot;

/// How the odds are sampled.
#[derive(Debug, Args)]
pub(super) struct OddsArgs {
    /// Sampled seasons
    #[arg(long, value_name = "N", default_value_t = Paths::USUAL.count,
          value_parser = clap::value_parser!(u32).range(1..=1_000_000))]
    paths: u32,
    /// The same seed gives the same answer
    #[arg(long, value_name = "N", default_value_t = 1, value_parser = parse_seed)]
    seed: u64,
}

impl OddsArgs {
    pub(super) fn paths(&self) -> Paths {
        Paths {
            count: self.paths,
            seed: self.seed,
        }
    }
}

#[derive(Debug, Args)]
pub(super) struct SettingsArgs {
    #[command(flatten)]
    line: LineArgs,
    #[command(flatten)]
    odds: OddsArgs,
    #[command(flatten)]
    output: JsonArgs,
    /// What uses the charge of each camera as bars, as a picture
    #[arg(long, value_name = "FILE.svg|png")]
    plot: Option<PathBuf>,
    #[command(flatten)]
    files: FileArgs,
}

#[derive(Debug, Args)]
pub(super) struct RevisitArgs {
    #[command(flatten)]
    line: LineArgs,
    /// Share of the seasons in which pictures may be lost between two visits: 5% or 0.05
    // So that `-5%` is refused for what it is, and not taken for a flag.
    #[arg(long, value_name = "SHARE", allow_hyphen_values = true)]
    risk: String,
    #[command(flatten)]
    odds: OddsArgs,
    #[command(flatten)]
    output: JsonArgs,
    /// Risk against days, as a picture
    #[arg(long, value_name = "FILE.svg|png")]
    plot: Option<PathBuf>,
    #[command(flatten)]
    files: FileArgs,
}

pub(super) fn run_settings(args: &SettingsArgs) -> Result<String, Failure> {
    let plot = args.files.picture(args.plot.as_deref())?;
    let request = SettingsRequest {
        line: args.line.request(),
        paths: args.odds.paths(),
    };
    let line = read(&request.line)?.line;
    check_picture(plot.as_ref())?;
    let answer = answer::settings::answer(&line, request.paths, &host())?;
    write_picture(plot.as_ref(), || plot::budget(&settings::bars(&answer)))?;
    Ok(if args.output.json {
        settings::json(&answer)
    } else {
        settings::text(&answer)
    })
}

pub(super) fn run_revisit(args: &RevisitArgs) -> Result<String, Failure> {
    let plot = args.files.picture(args.plot.as_deref())?;
    let paths = args.odds.paths();
    let risk = answer::revisit::Risk::parse(&args.risk, paths)?;
    let request = RevisitRequest {
        line: args.line.request(),
        risk,
        paths,
    };
    let line = read(&request.line)?.line;
    check_picture(plot.as_ref())?;
    let answer = answer::revisit::answer(&line, &request, &host())?;
    write_picture(plot.as_ref(), || plot::revisit(&revisit::curves(&answer)))?;
    Ok(if args.output.json {
        revisit::json(&answer)
    } else {
        revisit::text(&answer)
    })
}
