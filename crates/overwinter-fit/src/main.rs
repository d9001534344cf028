//! Fits the cells of the catalogue to the published points in `datasheets-notes/` and writes the
//! catalogue's files, a table of residuals and two plots beside each note.
//!
//! Run with `cargo run --release -p overwinter-fit`; run twice, it writes the same bytes. Names of
//! cells as arguments fit those alone, from what the catalogue holds of the others.

mod plot;
mod points;
mod recipe;
mod report;
mod residual_plot;
mod write_accuracy;
mod write_cell;

use std::collections::BTreeMap;
use std::error::Error;
use std::fs;
use std::path::Path;

use overwinter_line::fit::{Fitted, Point, Problem, rounded, tested, wider};
use overwinter_line::points::{Row, read_rows};
use overwinter_model::cell::Cell;
use overwinter_model::cell::catalogue::{CatalogueCell, find};

use points::usable;
use recipe::{RECIPES, Recipe, Start};

/// A fit is tried from so many starts: it may end in a valley that is not the deepest.
const STARTS: u32 = 6;

fn main() -> Result<(), Box<dyn Error>> {
    let only: Vec<String> = std::env::args().skip(1).collect();
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("../..");
    plot::register_letters()?;
    let folder = root.join("datasheets-notes");
    let mut summary = Vec::new();
    let mut fitted: BTreeMap<&str, Cell> = BTreeMap::new();
    for recipe in RECIPES {
        let known = find(recipe.name).ok_or("a recipe without a catalogue entry")?;
        if !only.is_empty() && !only.iter().any(|name| name == recipe.name) {
            fitted.insert(recipe.name, known.cell);
            continue;
        }
        println!("{}", recipe.name);
        let (entry, points) = fit(recipe, known, &fitted, &notes(&folder, recipe.name)?)?;
        fitted.insert(recipe.name, entry.cell);
        let file = format!("{}.rs", recipe.name.replace(['-', '.'], "_"));
        let catalogue = root.join("crates/overwinter-model/src/cell/catalogue");
        fs::write(
            catalogue.join(file),
            write_cell::text(recipe.name, &entry.cell),
        )?;
        let lines = report::write(&folder, &entry, &points)?;
        lines.iter().for_each(|line| println!("{}", line.line()));
        summary.extend(lines);
    }
    if only.is_empty() {
        report::write_summary(&folder, &summary)?;
        let table = root.join("crates/overwinter-line/src/cells/accuracy_table.rs");
        fs::write(table, write_accuracy::text(&summary))?;
    }
    Ok(())
}

/// The published points of a cell; none where it is derived from another.
fn notes(folder: &Path, name: &str) -> Result<Vec<Row>, Box<dyn Error>> {
    let path = folder.join(format!("{name}.csv"));
    if path.exists() {
        Ok(read_rows(&path, fs::File::open(&path)?)?)
    } else {
        Ok(Vec::new())
    }
}

/// The catalogue entry with its fitted cell, and the points that it was fitted to or held against.
fn fit(
    recipe: &Recipe,
    known: &CatalogueCell,
    fitted: &BTreeMap<&str, Cell>,
    rows: &[Row],
) -> Result<(CatalogueCell, Vec<Point>), Box<dyn Error>> {
    let start = match recipe.start {
        Start::Own(cell) => cell(),
        Start::From(name, change) => change(fitted.get(name).ok_or("a start before its fit")?),
    };
    let mut entry = CatalogueCell {
        cell: start,
        ..*known
    };
    let points = usable(rows.to_vec(), &entry, &recipe.weights);
    let free = recipe.knobs(&start);
    if !free.is_empty() {
        let from = |number| {
            let problem = Problem::new((&entry).into(), &points, free.clone(), &|| {});
            problem.started_at(number).solve()
        };
        let ends = (0..STARTS).map(|number| (number, from(number)));
        let better = |a: &(u32, Fitted), b: &(u32, Fitted)| a.1.objective.total_cmp(&b.1.objective);
        let (number, fitted) = ends.min_by(better).ok_or("no start")?;
        let Fitted {
            ended, objective, ..
        } = &fitted;
        println!("  {ended}, objective {objective:.2} from start {number}");
        entry.cell = fitted.cell;
        entry.cell.tested = tested(&(&entry).into(), &points);
        if recipe.common_points {
            entry.cell.tested = wider(entry.cell.tested, start.tested);
        }
    }
    entry.cell = rounded(&entry.cell);
    Ok((entry, points))
}
