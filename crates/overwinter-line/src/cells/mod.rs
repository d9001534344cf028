//! Cells by name: those of the catalogue, and a user's own from a cell file.
//!
//! Wherever a cell is named, a value that ends in `.toml` is a cell file.

mod accuracy;
mod accuracy_table;
mod charging;
mod file;
mod possible;
mod write;

use std::path::Path;
use std::sync::Arc;

use overwinter_model::cell::catalogue::{self, CATALOGUE, CatalogueCell};
use overwinter_model::cell::{Cell, Chemistry};
use overwinter_model::{Charge, Voltage};

pub use accuracy::{Accuracy, RoleAccuracy, accuracy};
pub(crate) use file::LONGEST_TITLE;
pub use file::chemistry_name;
pub use file::load;
pub use possible::check;
pub(crate) use write::text;

use crate::host::Files;
use crate::points::RatedCell;
use crate::problem::{Failure, suggest};

/// A cell with a name, shared by all that run on it.
pub type SharedCell = Arc<NamedCell>;

/// A cell with a name.
#[derive(Clone, Debug, PartialEq)]
pub struct NamedCell {
    /// As in tables and prices.
    pub name: String,
    /// For a person.
    pub title: String,
    /// Its parameters.
    pub cell: Cell,
    /// Nominal capacity: what rates and shares "of the rated" refer to.
    pub rated: Charge,
    /// Mass in grams.
    pub mass_g: f64,
}

impl From<&CatalogueCell> for NamedCell {
    fn from(entry: &CatalogueCell) -> Self {
        Self {
            name: entry.name.to_owned(),
            title: entry.title.to_owned(),
            cell: entry.cell,
            rated: entry.rated,
            mass_g: entry.mass_g,
        }
    }
}

impl From<&NamedCell> for RatedCell {
    fn from(named: &NamedCell) -> Self {
        Self {
            cell: named.cell,
            rated: named.rated,
        }
    }
}

/// The catalogue's cell of that name.
#[must_use]
pub fn find(name: &str) -> Option<SharedCell> {
    catalogue::find(name).map(|entry| Arc::new(entry.into()))
}

/// The names of the catalogue's cells.
#[must_use]
pub fn names() -> Vec<&'static str> {
    CATALOGUE.iter().map(|cell| cell.name).collect()
}

/// Whether a value that names a cell names a file.
#[must_use]
pub fn is_file(name: &str) -> bool {
    name.ends_with(".toml")
}

/// The cell that a value on the command line names: out of the catalogue, or a cell file from the
/// folder that the user is in.
///
/// # Errors
/// [`Failure::Request`] with the nearest name for one that is not known; what [`load`] gives for a
/// file that is wrong.
pub fn named(files: &dyn Files, name: &str) -> Result<SharedCell, Failure> {
    if is_file(name) {
        return load(files, Path::new(name)).map(Arc::new);
    }
    find(name).ok_or_else(|| {
        let message = if name.is_empty() {
            "the name of a cell is empty".to_owned()
        } else {
            format!("`{name}` is not a cell of the catalogue")
        };
        Failure::request(message, suggest(name, &names()))
    })
}

/// The cut-off that a test of this cell usually has: 0.9 V for the 1.5 V cells as in IEC 60086-2
/// and 1.0 V for nickel-metal hydride as in IEC 61951-2 (both as data sheets quote them); else the
/// cell's own floor.
#[must_use]
pub fn usual_cut_off(entry: &NamedCell) -> Voltage {
    match entry.cell.chemistry {
        Chemistry::Alkaline | Chemistry::LithiumIronDisulfide => Voltage::from_volts(0.9),
        Chemistry::NickelMetalHydride => Voltage::from_volts(1.0),
        _ => entry.cell.floor * f64::from(entry.cell.in_series),
    }
}

/// Whether a cell of one's own may be called so: 1 to 40 letters, digits, `-`, `_` and `.`; not as
/// a cell of the catalogue, nor as a file.
fn check_own_name(name: &str) -> Result<(), &'static str> {
    let fits = |c: char| c.is_alphanumeric() || "-_.".contains(c);
    if name.is_empty() || name.chars().count() > 40 || !name.chars().all(fits) {
        Err("expected 1 to 40 letters, digits, `-`, `_` or `.`")
    } else if catalogue::find(name).is_some() {
        Err("expected a name that the catalogue does not have")
    } else if is_file(name) {
        Err("expected a name that does not end as a file's")
    } else {
        Ok(())
    }
}

/// Reads the name of a cell of one's own.
pub(crate) fn read_own_name(
    reader: &mut crate::keys::Reader,
    given: &toml::Spanned<String>,
) -> String {
    let name = given.get_ref();
    if let Err(expected) = check_own_name(name) {
        let message = format!("a cell of your own cannot be called \"{name}\"");
        let problem = crate::problem::Problem::at(given.span(), message, expected);
        reader.problem(problem);
    }
    name.clone()
}
