//! The cells, and a cell of one's own.

use std::path::PathBuf;

use clap::Args;

use super::JsonArgs;
use crate::command::{catalogue, own_cell};
use crate::own;
use crate::problem::Failure;

#[derive(Debug, Args)]
pub(super) struct CatalogueArgs {
    /// Fits a cell of your own to the points and data-sheet numbers of this file
    #[arg(long, value_name = "POINTS.toml")]
    from: Option<PathBuf>,
    /// Writes that cell as a cell file, to be named wherever a cell is named
    #[arg(short, long, value_name = "CELL.toml", requires = "from")]
    output: Option<PathBuf>,
    #[command(flatten)]
    form: JsonArgs,
}

pub(super) fn run_catalogue(args: &CatalogueArgs) -> Result<String, Failure> {
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
