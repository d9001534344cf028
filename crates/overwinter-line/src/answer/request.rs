//! The line that a request is about.

use std::path::PathBuf;

use super::check;
use crate::host::Host;
use crate::line::{Line, LineFile};
use crate::problem::{Failure, suggest};

/// A line, or some cameras of it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct LineRequest {
    /// Its file.
    pub path: PathBuf,
    /// The cameras by name; all if none is named.
    pub cameras: Vec<String>,
}

/// A line that has been read.
pub struct Asked<'f> {
    /// Its file, without the cameras that nobody asked about.
    pub file: LineFile<'f>,
    /// The line with the cameras that were asked for.
    pub line: Line,
    /// What can be read in it and was hardly meant so.
    pub doubts: Vec<String>,
}

impl LineRequest {
    /// Reads the line.
    ///
    /// # Errors
    /// As [`LineFile::open`] and [`LineFile::line`]; [`Failure::Request`] for a camera that it does not have.
    pub fn read<'f>(&self, host: &Host<'f>) -> Result<Asked<'f>, Failure> {
        let mut file = LineFile::open(host.files, &self.path)?;
        let line = self.only(file.line()?)?;
        file.keep_cameras_of(&line);
        let doubts = check::doubtful_inputs(&line);
        Ok(Asked { file, line, doubts })
    }

    /// Only the cameras of those names, or all if none is named.
    fn only(&self, mut line: Line) -> Result<Line, Failure> {
        for name in &self.cameras {
            if line.cameras.iter().all(|camera| camera.name != *name) {
                let known: Vec<&str> = line.cameras.iter().map(|c| c.name.as_str()).collect();
                return Err(Failure::request(
                    format!("the line has no camera `{name}`"),
                    suggest(name, &known),
                ));
            }
        }
        if !self.cameras.is_empty() {
            line.cameras
                .retain(|camera| self.cameras.contains(&camera.name));
        }
        Ok(line)
    }
}
