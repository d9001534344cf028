//! The smallest panel and store.

use std::path::PathBuf;

use clap::Args;
use overwinter_line::answer;
use overwinter_line::answer::request::Asked;
use overwinter_line::answer::solar::{SolarRequest, TargetOdds};
use overwinter_line::odds::Paths;
use overwinter_line::problem::Failure;

use super::{FileArgs, JsonArgs, LineArgs, check_picture, parse_seed, read, write_picture};
use crate::command::solar;
use crate::host::host;
use crate::plot;

#[derive(Debug, Args)]
pub(super) struct SolarArgs {
    #[command(flatten)]
    line: LineArgs,
    /// In how many of a hundred seasons each camera shall live to the end
    // So that `-5` is refused for what it is, and not taken for a flag.
    #[arg(
        long,
        value_name = "PERCENT",
        default_value = "95",
        allow_hyphen_values = true
    )]
    odds: String,
    /// How many seasons are sampled for each size
    #[arg(long, value_name = "N", default_value_t = answer::solar::PATHS,
        value_parser = clap::value_parser!(u32).range(1..=100_000))]
    paths: u32,
    /// The same seed gives the same answer
    #[arg(long, value_name = "N", default_value_t = 1, value_parser = parse_seed)]
    seed: u64,
    #[command(flatten)]
    output: JsonArgs,
    /// Odds over panel and store, and energy in and out by the week, as a picture
    #[arg(long, value_name = "FILE.svg|png")]
    plot: Option<PathBuf>,
    #[command(flatten)]
    files: FileArgs,
}

pub(super) fn run_solar(args: &SolarArgs) -> Result<String, Failure> {
    let plot = args.files.picture(args.plot.as_deref())?;
    let paths = Paths {
        count: args.paths,
        seed: args.seed,
    };
    let target = TargetOdds::parse(&args.odds, paths)?;
    let request = SolarRequest {
        line: args.line.request(),
        target,
        paths,
    };
    let Asked { file, line, .. } = read(&request.line)?;
    check_picture(plot.as_ref())?;
    let solar = answer::solar::answer(&file, &line, &request, &host())?;
    write_picture(plot.as_ref(), || {
        plot::solar(&solar::picture_contents(&solar))
    })?;
    Ok(if args.output.json {
        solar::json(&solar)
    } else {
        solar::text(&solar)
    })
}
