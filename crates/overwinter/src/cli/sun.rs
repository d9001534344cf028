//! The sun over the season.

use std::path::PathBuf;

use clap::Args;
use overwinter_line::answer;
use overwinter_line::answer::sun::SunRequest;
use overwinter_line::problem::Failure;
use overwinter_line::sky;

use super::{FileArgs, JsonArgs, LineArgs, check_picture, in_range, read, write_picture};
use crate::command::sun;
use crate::plot;

#[derive(Debug, Args)]
pub(super) struct SunArgs {
    #[command(flatten)]
    line: LineArgs,
    /// How near to a lens's axis the sun counts, degrees
    #[arg(long, value_name = "DEG", default_value_t = sky::WITHIN_DEG)]
    within_deg: f64,
    #[command(flatten)]
    output: JsonArgs,
    /// The sun's paths with each lens's field, and daylight over the dates, as a picture
    #[arg(long, value_name = "FILE.svg|png")]
    plot: Option<PathBuf>,
    #[command(flatten)]
    files: FileArgs,
}

pub(super) fn run_sun(args: &SunArgs) -> Result<String, Failure> {
    let plot = args.files.picture(args.plot.as_deref())?;
    let within_deg = in_range("--within-deg", args.within_deg, 1.0, 90.0)?;
    let request = SunRequest {
        line: args.line.request(),
        within_deg,
    };
    let line = read(&request.line)?.line;
    check_picture(plot.as_ref())?;
    let answer = answer::sun::answer(&line, request.within_deg);
    write_picture(plot.as_ref(), || plot::sun(&answer))?;
    Ok(if args.output.json {
        sun::json(&answer)
    } else {
        sun::text(&answer)
    })
}
