//! Lines that differ from their file in some keys.

use std::path::{Path, PathBuf};

use rust_decimal::Decimal;
use toml::Spanned;

use super::assemble::{assemble, keys_of};
use super::cell_files::CellFiles;
use super::file::LineKeys;
use super::key::{Key, Section};
use super::section::Keyed;
use super::site::{self, Site};
use super::value::{KeyType, Value};
use super::{LARGEST_FILE_BYTES, Line};
use crate::cells;
use crate::host::Files;
use crate::keys::Reader;
use crate::problem::SourceText;
use crate::problem::{Failure, Problem};
use crate::source::read_text;

/// What a key gets in the place of its own.
pub type Change<'a> = (&'a Key, &'a Value);

/// A line file that has been read, for lines that differ from it in some keys.
pub struct LineFile<'f> {
    files: &'f dyn Files,
    path: PathBuf,
    source: SourceText,
    keys: LineKeys,
    own: CellFiles,
}

impl<'f> LineFile<'f> {
    /// Reads a line file; its values are checked by [`Self::line`].
    ///
    /// # Errors
    /// As [`super::load`].
    pub fn open(files: &'f dyn Files, path: &Path) -> Result<Self, Failure> {
        let source = read_text(files, path, "line file", LARGEST_FILE_BYTES)?;
        let keys = match keys_of(&source.text) {
            Ok(keys) => keys,
            Err(problem) => {
                return Err(Failure::Input {
                    source,
                    problems: vec![problem],
                });
            }
        };
        let own = CellFiles::of(files, &keys, folder_of(path));
        Ok(Self {
            files,
            path: path.to_owned(),
            source,
            keys,
            own,
        })
    }

    /// The line as it stands in the file.
    ///
    /// # Errors
    /// [`Failure::Input`] with every problem of the file and its place.
    pub fn line(&self) -> Result<Line, Failure> {
        let mut reader = Reader::default();
        let site = site::read(
            &mut reader,
            &self.keys.site,
            self.files,
            folder_of(&self.path),
        );
        assemble(reader, &self.keys, &self.own, site)
            .map(|line| self.named(line))
            .map_err(|problems| self.refused(problems))
    }

    fn refused(&self, problems: Vec<Problem>) -> Failure {
        Failure::Input {
            source: self.source.clone(),
            problems,
        }
    }

    /// The line with a panel of a watt in each camera that has none: where the file says nothing, a
    /// usual one. `line` is the file's own, with the same cameras.
    ///
    /// # Errors
    /// [`Failure::Input`] with what the file says of panels that are not there yet and is wrong.
    pub fn with_panels(&self, line: &Line) -> Result<Line, Failure> {
        let mut keys = self.keys.clone();
        for (keys, camera) in keys.camera.iter_mut().zip(&line.cameras) {
            if camera.panel.is_none() {
                keys.panel.put("watts", Some(&Value::Number(Decimal::ONE)));
            }
        }
        let site = Some(Site::of(line));
        assemble(Reader::default(), &keys, &self.own, site)
            .map(|line| self.named(line))
            .map_err(|problems| self.refused(problems))
    }

    /// Leaves out all cameras but those of `line`.
    pub fn keep_cameras_of(&mut self, line: &Line) {
        let kept = |name: &str| line.cameras.iter().any(|camera| camera.name == name);
        self.keys
            .camera
            .retain(|camera| kept(camera.name.get_ref()));
    }

    /// Reads the cell files among `values` of `key`, so that lines may have them.
    pub fn read_cells(&mut self, key: &Key, values: &[Value]) {
        if !["cell", "store_cell"].contains(&key.name) {
            return;
        }
        for value in values {
            if let Value::Name(name) = value
                && cells::is_file(name)
            {
                self.own.read(self.files, name, folder_of(&self.path));
            }
        }
    }

    /// Cameras with a value of their own for `key`, or for one that it puts aside.
    #[must_use]
    pub fn overriding(&self, key: &Key) -> Vec<&str> {
        let mut keys = key.puts_aside().to_vec();
        keys.push(key.name);
        let cameras = self.keys.camera.iter().filter(|camera| {
            let own: &dyn Keyed = match key.section {
                Section::Site | Section::Season => return false,
                Section::Draw => &camera.draw,
                Section::Pack => &camera.pack,
                Section::Activity => &camera.activity,
                Section::Settings => &camera.settings,
                Section::Panel => &camera.panel,
            };
            keys.iter().any(|key| own.has(key))
        });
        cameras
            .map(|camera| camera.name.get_ref().as_str())
            .collect()
    }

    /// The line with other values in some keys: those of `[site]` and `[season]` for all, those of
    /// other sections in each camera. `unchanged` is the file's own line, with the same cameras.
    ///
    /// # Errors
    /// All that is wrong with that line.
    pub fn with(&self, unchanged: &Line, changes: &[Change<'_>]) -> Result<Line, Vec<Problem>> {
        let mut keys = self.keys.clone();
        for (key, value) in changes {
            if !change(&mut keys, key, value) {
                let message = format!("`{}` is {value}", key.name);
                return Err(vec![Problem::at(0..0, message, expected(key))]);
            }
        }
        let new = |name: &str| changes.iter().find(|(key, _)| key.name == name);
        if let (Some((_, Value::Name(cell))), None) = (new("cell"), new("series")) {
            self.fill_with(cell, &mut keys, unchanged);
        }
        let mut reader = Reader::default();
        let moved = changes.iter().any(|(key, _)| key.section == Section::Site);
        let site = if moved {
            site::read(&mut reader, &keys.site, self.files, folder_of(&self.path))
        } else {
            Some(Site::of(unchanged))
        };
        assemble(reader, &keys, &self.own, site).map(|line| self.named(line))
    }

    /// As many of another cell as go into each camera, where the file's number is for another kind
    /// of battery.
    fn fill_with(&self, cell: &str, keys: &mut LineKeys, unchanged: &Line) {
        let Some(cell) = self.own.cell(cell) else {
            return;
        };
        for (keys, camera) in keys.camera.iter_mut().zip(&unchanged.cameras) {
            let series = camera.pack.with_cell(&cell, &camera.supply).series;
            // Of its own cell there go in as many as the file says, however unusual.
            if series != camera.pack.series && cell != camera.pack.cell {
                keys.pack.series = Some(Spanned::new(0..0, i64::from(series)));
            }
        }
    }

    fn named(&self, line: Line) -> Line {
        Line {
            path: self.path.clone(),
            ..line
        }
    }
}

fn folder_of(path: &Path) -> &Path {
    path.parent().unwrap_or(Path::new(""))
}

/// What a key takes, where a value is of another type.
fn expected(key: &Key) -> &'static str {
    match key.name {
        "weather_use" => "expected normals or hours",
        _ => match key.values {
            KeyType::Number => "expected a number",
            KeyType::Whole => "expected a whole number",
            KeyType::Name | KeyType::List => "expected a name",
            KeyType::Date => "expected a date",
        },
    }
}

/// Puts a value in a key's place, and takes away what says the same; whether the key can have it.
fn change(keys: &mut LineKeys, key: &Key, value: &Value) -> bool {
    let put = |section: &mut dyn Keyed| {
        for other in key.puts_aside() {
            section.put(other, None);
        }
        section.put(key.name, Some(value))
    };
    let cameras = &mut keys.camera;
    match key.section {
        Section::Site => put(keys.site.get_mut()),
        Section::Season => put(keys.season.get_mut()),
        Section::Draw => cameras.iter_mut().all(|camera| put(&mut camera.draw)),
        Section::Pack => cameras.iter_mut().all(|camera| put(&mut camera.pack)),
        Section::Activity => cameras.iter_mut().all(|camera| put(&mut camera.activity)),
        Section::Settings => cameras.iter_mut().all(|camera| put(&mut camera.settings)),
        Section::Panel => cameras.iter_mut().all(|camera| put(&mut camera.panel)),
    }
}
