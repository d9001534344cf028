//! A camera's season as bytes for a microcontroller.

use std::path::PathBuf;

use clap::Args;
use overwinter_line::answer;
use overwinter_line::answer::embed::Blob;
use overwinter_line::answer::request::LineRequest;
use overwinter_line::problem::Failure;

use super::{FileArgs, JsonArgs, in_place_of_answer, say};
use crate::command::embed;
use crate::host::host;

#[derive(Debug, Args)]
#[command(
    override_usage = "overwinter embed [OPTIONS] <LINE> -o <FILE>\n       overwinter embed [--json] --show <FILE>"
)]
pub(super) struct EmbedArgs {
    /// The line file (TOML)
    #[arg(required_unless_present = "show", requires = "file")]
    line: Option<PathBuf>,
    /// The camera, if the line has several
    #[arg(long, value_name = "NAME", requires = "line")]
    camera: Option<String>,
    /// The file to write
    #[arg(
        short = 'o',
        long = "output",
        id = "file",
        value_name = "FILE",
        requires = "line"
    )]
    file: Option<PathBuf>,
    /// Says what a written file holds
    #[arg(long, value_name = "FILE", conflicts_with_all = ["line", "camera", "file"])]
    show: Option<PathBuf>,
    #[command(flatten)]
    files: FileArgs,
    #[command(flatten)]
    output: JsonArgs,
}

pub(super) fn run_embed(args: &EmbedArgs) -> Result<Vec<u8>, Failure> {
    let blob = match (&args.show, &args.line, &args.file) {
        (None, Some(line), Some(file)) => {
            let file = embed::output(file, args.files.force);
            let request = LineRequest {
                path: line.clone(),
                cameras: args.camera.iter().cloned().collect(),
            };
            let asked = request.read(&host())?;
            let as_answer = in_place_of_answer(Some(&file), &args.output)?;
            say(&asked.doubts);
            let blob = Blob::of(&asked.line, answer::embed::only_camera(&asked.line)?)?;
            if as_answer {
                return Ok(blob.bytes().to_vec());
            }
            file.write(blob.bytes())?;
            blob
        }
        // clap has seen to it that there is one of the two.
        (show, ..) => Blob::read(&show.clone().unwrap_or_default(), host().files)?,
    };
    let answer = blob.answer();
    let answer = if args.output.json {
        embed::json(&answer)
    } else {
        embed::text(&answer)
    };
    Ok(answer.into())
}
