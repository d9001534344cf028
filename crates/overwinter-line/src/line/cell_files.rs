//! The cell files that a line names, each read once.

use std::collections::BTreeMap;
use std::path::Path;
use std::sync::Arc;

use toml::Spanned;

use super::file::{CellNames, LineKeys, PackKeys};
use crate::cells::{self, SharedCell};
use crate::host::Files;
use crate::keys::{Reader, escapes_in_path};
use crate::problem::{Failure, Problem};

/// Cells by what a line file calls them.
#[derive(Debug, Default)]
pub(super) struct CellFiles {
    files: BTreeMap<String, Result<SharedCell, Failure>>,
}

impl CellFiles {
    /// Reads every cell file that the line names; their paths start from `folder`.
    pub(super) fn of(files: &dyn Files, keys: &LineKeys, folder: &Path) -> Self {
        let cameras = keys.camera.iter().map(|camera| &camera.pack);
        let packs = cameras.chain([&keys.pack]).flat_map(named_in);
        let panels = keys.camera.iter().map(|camera| &camera.panel);
        let panels = panels.chain([&keys.panel]);
        let stores = panels.filter_map(|panel| Some(panel.store_cell.as_ref()?.get_ref()));
        let priced = keys.prices.cell.keys().map(Spanned::get_ref);
        let mut own = Self::default();
        for name in packs
            .chain(stores)
            .chain(priced)
            .filter(|name| cells::is_file(name))
        {
            own.read(files, name, folder);
        }
        own
    }

    /// Reads one more cell file.
    pub(super) fn read(&mut self, files: &dyn Files, name: &str, folder: &Path) {
        self.files
            .entry(name.to_owned())
            .or_insert_with(|| cells::load(files, &folder.join(name)).map(Arc::new));
    }

    /// The cell of that name or file, if there is such a one.
    pub(super) fn cell(&self, name: &str) -> Option<SharedCell> {
        match self.files.get(name) {
            Some(read) => read.as_ref().ok().map(Arc::clone),
            None => cells::find(name),
        }
    }

    /// The cell of that name or file; what is wrong with it is a problem at the name's place.
    pub(super) fn find(&self, reader: &mut Reader, name: &Spanned<String>) -> Option<SharedCell> {
        match self.files.get(name.get_ref()) {
            Some(Ok(cell)) => return Some(Arc::clone(cell)),
            Some(Err(why)) => reader.problem(spoilt(name, why)),
            None => match cells::find(name.get_ref()) {
                Some(cell) => return Some(cell),
                None => reader.unknown(name, "cell", &cells::names()),
            },
        }
        None
    }

    /// Refuses two different cells of one name: no table could tell them apart.
    pub(super) fn refuse_namesakes(&self, reader: &mut Reader) {
        let good: Vec<(&String, &SharedCell)> = self
            .files
            .iter()
            .filter_map(|(file, cell)| Some((file, cell.as_ref().ok()?)))
            .collect();
        for (place, (file, cell)) in good.iter().enumerate() {
            let before = &good[..place];
            let namesake = before
                .iter()
                .find(|(_, other)| other.name == cell.name && other != cell);
            if let Some((other, _)) = namesake {
                let message = format!("`{other}` and `{file}` both hold a cell \"{}\"", cell.name);
                reader.problem(Problem::whole(message).help("give one of them another `name`"));
            }
        }
    }
}

fn named_in(pack: &PackKeys) -> &[String] {
    match pack.cell.as_ref().map(Spanned::get_ref) {
        None => &[],
        Some(CellNames::One(name)) => std::slice::from_ref(name),
        Some(CellNames::Several(names)) => names,
    }
}

/// The problem of a cell file at the place where the line names it.
fn spoilt(name: &Spanned<String>, why: &Failure) -> Problem {
    let (message, help) = match why {
        Failure::Input { source, problems } => {
            let first = problems.first();
            let place = first.and_then(|problem| problem.place(source));
            let place = place.map_or(String::new(), |(line, column)| format!(":{line}:{column}"));
            let what = first.map_or("wrong", |problem| &problem.message);
            (
                format!("{}{place}: {what}", source.name),
                first.map(Problem::advice),
            )
        }
        Failure::Request { message, .. } => {
            let help = escapes_in_path(name.get_ref());
            (message.clone(), Some(help.to_owned()))
        }
        other => (other.to_string(), None),
    };
    let problem = Problem::at(
        name.span(),
        message,
        "expected a cell file that can be used",
    );
    match help {
        Some(help) if !help.is_empty() => problem.help(help),
        _ => problem,
    }
}
