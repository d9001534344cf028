//! Every published point beside the model's, and sorted for judging.

use std::collections::BTreeMap;
use std::fmt;

use overwinter_line::points::{How, Measure as Judged, Modelled, Row, entry_for, evaluate};
use overwinter_tests::files::reference_files;
use overwinter_tests::points::{Measure, Points};
use overwinter_tests::surroundings::rows_of_points;

/// Names another folder or file of points.
pub(crate) const VARIABLE: &str = "OVERWINTER_CELL_POINTS";

/// The project's own points.
pub(crate) const NOTES: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/../datasheets-notes");

/// Whether the points are not the project's own.
pub(crate) fn elsewhere() -> bool {
    std::env::var_os(VARIABLE).is_some()
}

/// What was compared: as printed, and sorted.
#[derive(Default)]
pub(crate) struct Compared {
    /// Every point, in the order of the tables.
    pub(crate) all: Points,
    /// Every point, by kind.
    pub(crate) by_kind: Kinds,
    /// Those that the fit never saw: every third row.
    pub(crate) held_out: Kinds,
    /// By the name of the catalogue cell.
    pub(crate) cells: BTreeMap<&'static str, Kinds>,
}

/// Points by what the aims tell apart.
#[derive(Clone, Default)]
pub(crate) struct Kinds {
    /// Durations, capacities, energies and shares of them.
    pub(crate) services: Points,
    /// By the cell, also where a pack was measured.
    pub(crate) voltages: Points,
    /// However they were measured.
    pub(crate) resistances: Points,
}

/// Compares every row of the tables.
pub(crate) fn compare() -> Compared {
    let mut compared = Compared::default();
    for path in reference_files(VARIABLE, NOTES) {
        if path.extension().is_none_or(|extension| extension != "csv") {
            continue;
        }
        match rows_of_points(&path) {
            Ok(rows) => rows.iter().for_each(|row| compared.add(row)),
            Err(why) => println!("FILE\t{}\tnot a table of points: {why}", path.display()),
        }
    }
    compared
}

impl Compared {
    fn add(&mut self, row: &Row) {
        if row.how == How::Memory {
            self.all.skip(&row.id, "from memory");
            return;
        }
        match entry_for(row).and_then(|entry| Ok((entry, evaluate(&entry.into(), row)?))) {
            Ok((entry, modelled)) => self.sort(row, entry.name, &modelled),
            Err(skip) => self.all.skip(&row.id, &skip.to_string()),
        }
    }

    fn sort(&mut self, row: &Row, cell: &'static str, modelled: &Modelled) {
        if modelled.measure == Judged::Relative && row.value <= 0.0 {
            let why = format!(
                "zero is published, ours is {:.4}: no relative error",
                modelled.ours
            );
            self.all.skip(&row.id, &why);
            return;
        }
        if let Some(assumed) = modelled.assumed {
            println!("ASSUMED\t{}\t{assumed}", row.id);
        }
        let by = match modelled.measure {
            Judged::Absolute => Measure::Absolute,
            Judged::Relative => Measure::Relative,
        };
        self.all
            .compare(&row.id, &row.quantity, row.value, modelled.ours, by);
        self.by_kind.add(row, modelled);
        self.cells.entry(cell).or_default().add(row, modelled);
        if row.running_number().is_some_and(|number| number % 3 == 0) {
            self.held_out.add(row, modelled);
        }
    }

    /// One line for each group of points and kind of figure.
    pub(crate) fn figures(&self) -> String {
        let groups = [("all", &self.by_kind), ("held out", &self.held_out)];
        let lines = groups.map(|(name, kinds)| format!("FIGURES\t{name}\n{kinds}"));
        lines.concat()
    }
}

impl Kinds {
    fn add(&mut self, row: &Row, modelled: &Modelled) {
        let (points, cells, by) = match (modelled.measure, row.quantity.as_str()) {
            (Judged::Absolute, _) => (
                &mut self.voltages,
                f64::from(modelled.in_series),
                Measure::Absolute,
            ),
            (Judged::Relative, "resistance_ohm") => (&mut self.resistances, 1.0, Measure::Relative),
            (Judged::Relative, _) => (&mut self.services, 1.0, Measure::Relative),
        };
        let (reference, ours) = (row.value / cells, modelled.ours / cells);
        points.compare(&row.id, &row.quantity, reference, ours, by);
    }
}

impl fmt::Display for Kinds {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let kinds = [
            ("durations", &self.services, &[0.15, 0.30][..]),
            ("voltages", &self.voltages, &[0.025, 0.060]),
            ("resistances", &self.resistances, &[0.25]),
        ];
        for (name, points, bounds) in kinds {
            let Some(median) = points.quantile(0.5) else {
                continue;
            };
            let count = points.compared().len();
            write!(f, "FIGURES\t\t{name}\tn {count}\tmedian {median:.4}")?;
            for &bound in bounds {
                let share = 100.0 * share_within(points, bound);
                write!(f, "\t{share:.1} % within {bound}")?;
            }
            writeln!(f)?;
        }
        Ok(())
    }
}

/// Share of the points whose error is at most `bound`; 1 without points.
pub(crate) fn share_within(points: &Points, bound: f64) -> f64 {
    let all = points.compared().len();
    if all == 0 {
        return 1.0;
    }
    points.only(|point| point.error <= bound).compared().len() as f64 / all as f64
}
