//! Files that commands write.

use std::path::Path;

use clap::Args;
use overwinter_line::problem::Failure;
use overwinter_line::shown;

use super::JsonArgs;
use crate::output::Output;
use crate::plot::{Picture, PictureFile};

/// How files are written.
#[derive(Clone, Copy, Debug, Args)]
pub(super) struct FileArgs {
    /// Replaces a file that this program did not write; never one that the run reads
    #[arg(long)]
    pub(super) force: bool,
}

impl FileArgs {
    /// A picture's file, if one was asked for.
    pub(super) fn picture(self, plot: Option<&Path>) -> Result<Option<PictureFile>, Failure> {
        plot.map(|path| PictureFile::new(path, self.force))
            .transpose()
    }
}

/// Writes a picture if one was asked for.
pub(super) fn write_picture(
    plot: Option<&PictureFile>,
    picture: impl FnOnce() -> Picture,
) -> Result<(), Failure> {
    plot.map_or(Ok(()), |file| file.write(&picture()))
}

/// Whether a picture may be written, if one was asked for: before the work begins, when all inputs have been
/// read.
pub(super) fn check_picture(plot: Option<&PictureFile>) -> Result<(), Failure> {
    plot.map_or(Ok(()), PictureFile::check)
}

/// Whether a file goes to standard output in place of the answer; checked beforehand, as every output.
pub(super) fn in_place_of_answer(
    output: Option<&Output>,
    json: &JsonArgs,
) -> Result<bool, Failure> {
    let Some(output) = output else {
        return Ok(false);
    };
    output.check()?;
    let is_answer = output.is_standard_output()?;
    if is_answer && json.json {
        return Err(Failure::request(
            format!(
                "--json and `{}` both ask for standard output",
                shown::path(output.path())
            ),
            "give the name of a file, or leave out --json",
        ));
    }
    Ok(is_answer)
}
