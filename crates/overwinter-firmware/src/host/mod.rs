//! The computer's side: makes blobs, and gives the answers that the device's are held against.

mod cases;

use std::fs;
use std::io::{self, Write};
use std::path::Path;
use std::process::ExitCode;

use overwinter_firmware::ERASED;
use overwinter_model::blob::{self, MOST_BYTES};

const USAGE: &str = "usage: overwinter-firmware make FOLDER | overwinter-firmware run BLOB";

/// Does what the command line says.
pub(crate) fn main() -> ExitCode {
    let arguments: Vec<String> = std::env::args().skip(1).collect();
    let arguments: Vec<&str> = arguments.iter().map(String::as_str).collect();
    let done = match *arguments {
        ["make", folder] => make(Path::new(folder)),
        ["run", blob] => run(Path::new(blob)),
        _ => {
            eprintln!("{USAGE}");
            return ExitCode::from(2);
        }
    };
    match done {
        Ok(()) => ExitCode::SUCCESS,
        Err(why) => {
            eprintln!("{why}");
            ExitCode::FAILURE
        }
    }
}

/// A blob for each case, named after it.
fn make(folder: &Path) -> Result<(), String> {
    for (name, installation) in cases::all() {
        let mut buffer = [0; MOST_BYTES];
        let blob =
            blob::encode(&installation, &mut buffer).map_err(|why| format!("{name}: {why}"))?;
        let path = folder.join(name).with_extension("blob");
        fs::write(&path, blob).map_err(|why| format!("{}: {why}", path.display()))?;
    }
    Ok(())
}

/// What the device would print.
fn run(path: &Path) -> Result<(), String> {
    let bytes = fs::read(path).map_err(|why| format!("{}: {why}", path.display()))?;
    let installation = blob::decode(&bytes).map_err(|why| format!("{}: {why}", path.display()))?;
    let mut text = Vec::new();
    let mut out = |line: &[u8]| text.extend_from_slice(line);
    overwinter_firmware::answer(&installation, &mut out);
    let checksum = blob::checksum(&bytes);
    overwinter_firmware::gauge(&installation, checksum, &mut { ERASED }, &mut out);
    io::stdout().write_all(&text).map_err(|why| why.to_string())
}
