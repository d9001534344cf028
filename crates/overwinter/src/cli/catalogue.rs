//! The cells, and a cell of one's own.

use std::path::PathBuf;

use clap::Args;
use overwinter_line::answer;
use overwinter_line::problem::Failure;

use super::{FileArgs, JsonArgs, in_place_of_answer};
use crate::command::{catalogue, cell_from_points};
use crate::host::host;

#[derive(Debug, Args)]
pub(super) struct CatalogueArgs {
    /// Fits a cell of your own to the points and data-sheet numbers of this file
    #[arg(long, value_name = "POINTS.toml")]
    from: Option<PathBuf>,
    /// Writes that cell as a cell file, to be named wherever a cell is named
    #[arg(short, long, value_name = "CELL.toml", requires = "from")]
    output: Option<PathBuf>,
    #[command(flatten)]
    files: FileArgs,
    #[command(flatten)]
    form: JsonArgs,
}

pub(super) fn run_catalogue(args: &CatalogueArgs) -> Result<Vec<u8>, Failure> {
    let json = args.form.json;
    let Some(points) = &args.from else {
        let cells = answer::catalogue::answer();
        let answer = if json {
            catalogue::json(&cells)
        } else {
            catalogue::text(&cells)
        };
        return Ok(answer.into());
    };
    let path = args.output.as_deref();
    let file = path.map(|path| cell_from_points::output(path, args.files.force));
    let file = file.transpose()?;
    let own = overwinter_line::cell_from_points::load(host().files, points)?;
    let as_answer = in_place_of_answer(file.as_ref(), &args.form)?;
    let fitted = answer::cell_from_points::run(own, &host())?;
    if let Some(file) = file {
        let text = cell_from_points::cell_file(points, &fitted)?;
        if as_answer {
            return Ok(text.into());
        }
        file.write(text.as_bytes())?;
    }
    let answer = fitted.answer(path);
    let answer = if json {
        cell_from_points::json(&answer)
    } else {
        cell_from_points::text(&answer)
    };
    Ok(answer.into())
}
