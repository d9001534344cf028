//! Files written whole or not at all, and never over something that somebody would miss.

mod target;
mod temporary;

use std::fs::{File, OpenOptions, Permissions};
use std::io::{ErrorKind, Read, Write};
use std::path::{Path, PathBuf};

use crate::host::is_input;
use crate::notice;
use overwinter_line::problem::Failure;
use overwinter_line::shown;
use target::Target;

/// A kind of file that this program writes.
#[derive(Clone, Copy, Debug)]
pub struct Kind {
    /// What it is called: `a picture (SVG) that this program wrote`.
    pub what: &'static str,
    /// Whether bytes are the first ones ([`HEAD`] at the most) of a file of this kind that this program
    /// wrote.
    pub wrote: fn(&[u8]) -> bool,
}

/// So many of its first bytes tell who wrote a file: more than a whole cell file has.
pub const HEAD: usize = 16_384;

/// A file that is to be written.
#[derive(Clone, Debug)]
pub struct Output {
    path: PathBuf,
    kind: Kind,
    force: bool,
}

impl Output {
    /// A file of that kind at `path`, `-` for standard output; `force` replaces whatever file is there,
    /// but for an input of the run.
    #[must_use]
    pub fn new(path: &Path, kind: Kind, force: bool) -> Self {
        Self {
            path: path.to_owned(),
            kind,
            force,
        }
    }

    /// Its name as the user gave it.
    #[must_use]
    pub fn path(&self) -> &Path {
        &self.path
    }

    /// Whether it is standard output: then it stands in place of the answer.
    ///
    /// # Errors
    /// As [`Self::check`].
    pub fn is_standard_output(&self) -> Result<bool, Failure> {
        Ok(matches!(self.target()?, Target::StandardOutput))
    }

    /// Whether it may be written, as far as that shows beforehand: for commands that compute before they
    /// write. Called when all inputs have been read.
    ///
    /// # Errors
    /// [`Failure::Request`] if an input of the run, a folder, or a file that this program did not write
    /// would be lost; [`Failure::Run`] if the folder is not there or may not be written to.
    pub fn check(&self) -> Result<(), Failure> {
        match self.target()? {
            Target::StandardOutput | Target::Stream => Ok(()),
            Target::File { real, existing } => {
                self.may_replace(&real, existing.as_ref())?;
                temporary::beside(&real)
                    .map(|_| ())
                    .map_err(|why| self.failed(&why))
            }
        }
    }

    /// Refuses two outputs of one run that are one file: the second would take the first one's place.
    ///
    /// # Errors
    /// As [`Self::check`]; [`Failure::Request`] if they are.
    pub fn check_apart(&self, other: &Self) -> Result<(), Failure> {
        let file = |output: &Self| match output.target()? {
            Target::File { real, .. } => Ok::<_, Failure>(target::absolute(&real)),
            Target::StandardOutput | Target::Stream => Ok(None),
        };
        let one = file(self)?;
        if one.is_none() || one != file(other)? {
            return Ok(());
        }
        Err(Failure::request(
            format!(
                "`{}` and `{}` are the same file",
                shown::path(&self.path),
                shown::path(&other.path)
            ),
            "give each a name of its own",
        ))
    }

    /// Writes `bytes` by way of a temporary file beside it and a rename, so that a reader never meets half
    /// a file and a failure leaves what was there before. A pipe or a device gets them as they are. Says on
    /// standard error what was written.
    ///
    /// # Errors
    /// As [`Self::check`]; [`Failure::Request`] for standard output, where the answer goes.
    pub fn write(&self, bytes: &[u8]) -> Result<(), Failure> {
        match self.target()? {
            Target::StandardOutput => {
                return Err(Failure::request(
                    format!(
                        "`{}` is standard output, where the answer goes",
                        shown::path(&self.path)
                    ),
                    "give the name of a file",
                ));
            }
            Target::Stream => self
                .stream(bytes)
                .map_err(|why| self.cannot(&words_of(&why)))?,
            Target::File { real, existing } => {
                self.may_replace(&real, existing.as_ref())?;
                temporary::replace(&real, existing, bytes).map_err(|why| self.failed(&why))?;
            }
        }
        notice::wrote(&self.path);
        Ok(())
    }

    fn target(&self) -> Result<Target, Failure> {
        if self.path.as_os_str().is_empty() {
            return Err(Failure::request("a file's name is empty", "give it a name"));
        }
        target::of(&self.path).map_err(|why| self.failed(&why))
    }

    /// Refuses what would be missed.
    fn may_replace(&self, real: &Path, existing: Option<&Permissions>) -> Result<(), Failure> {
        let Some(mode) = existing else {
            return Ok(());
        };
        let shown = shown::path(&self.path);
        if is_input(real) {
            return Err(Failure::request(
                format!("`{shown}` is a file that this run reads"),
                "give another name: no output replaces an input",
            ));
        }
        if self.force {
            return Ok(());
        }
        if mode.readonly() {
            return Err(Failure::request(
                format!("`{shown}` may only be read"),
                "give another name, or --force to replace it",
            ));
        }
        if self.wrote(real) {
            return Ok(());
        }
        Err(Failure::request(
            format!("`{shown}` is there already and is not {}", self.kind.what),
            "give another name, or --force to replace it",
        ))
    }

    /// Whether there is nothing to lose at a place: a file of this kind that this program wrote, or an empty
    /// one. What cannot be read may be anything.
    fn wrote(&self, real: &Path) -> bool {
        let mut head = Vec::with_capacity(HEAD);
        let read = File::open(real).and_then(|file| file.take(HEAD as u64).read_to_end(&mut head));
        read.is_ok() && (head.is_empty() || (self.kind.wrote)(&head))
    }

    fn stream(&self, bytes: &[u8]) -> std::io::Result<()> {
        let mut stream = OpenOptions::new().write(true).open(&self.path)?;
        stream.write_all(bytes)?;
        stream.flush()
    }

    /// A file that was not written; what is not there, or closed, is its folder.
    fn failed(&self, why: &std::io::Error) -> Failure {
        self.cannot(&match why.kind() {
            ErrorKind::NotFound => "its folder is not there".to_owned(),
            ErrorKind::PermissionDenied => "its folder may not be written to".to_owned(),
            _ => words_of(why),
        })
    }

    fn cannot(&self, why: &str) -> Failure {
        Failure::Run(format!(
            "`{}` cannot be written: {why}",
            shown::path(&self.path)
        ))
    }
}

/// Why something was not written. The error's own words name the temporary file, which the user never heard
/// of.
fn words_of(why: &std::io::Error) -> String {
    match why.kind() {
        ErrorKind::NotADirectory => "a part of its path is not a folder".to_owned(),
        ErrorKind::PermissionDenied => "it may not be written to".to_owned(),
        ErrorKind::IsADirectory => "it is a folder".to_owned(),
        ErrorKind::BrokenPipe => "nobody reads it any more".to_owned(),
        other => other.to_string(),
    }
}
