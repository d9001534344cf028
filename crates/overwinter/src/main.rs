//! The `overwinter` program: all of it is in the library.

use std::io::Write;
use std::process::ExitCode;

use clap::Parser;

fn main() -> ExitCode {
    let cli = overwinter::cli::Cli::parse();
    match overwinter::cli::run(&cli, &mut std::io::stdout().lock()) {
        Ok(()) => ExitCode::SUCCESS,
        Err(failure) => {
            let shown = failure.render(overwinter::notice::coloured());
            // If nobody hears us there is nobody to tell.
            let _ = writeln!(std::io::stderr(), "{shown}");
            ExitCode::from(if failure.is_of_input() { 2 } else { 1 })
        }
    }
}
