//! Which catalogue cell a row is about, and how it is made up to the size under test.

use overwinter_model::Charge;
use overwinter_model::cell::Cell;
use overwinter_model::cell::catalogue::{CatalogueCell, find};

use super::{Row, Skip, State};

/// A cell and the charge that rates such as "0.5 It" and shares "of the rated" refer to.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RatedCell {
    /// Its parameters.
    pub cell: Cell,
    /// Its nominal capacity.
    pub rated: Charge,
}

impl From<&CatalogueCell> for RatedCell {
    fn from(entry: &CatalogueCell) -> Self {
        Self {
            cell: entry.cell,
            rated: entry.rated,
        }
    }
}

/// The catalogue cell that a row is about: the one after which its table is named; in a table of several
/// cells the one of the same size, or the nearest of the same make-up.
///
/// # Errors
/// A [`Skip`] for chemistries and sizes that no catalogue cell stands for.
pub fn entry_for(row: &Row) -> Result<&'static CatalogueCell, Skip> {
    let by_row = entry_by_row(row)?;
    // A cell's table may hold a row of another chemistry to compare with.
    let table = row.table;
    let table = table.filter(|table| table.cell.chemistry == by_row.cell.chemistry);
    Ok(table.unwrap_or(by_row))
}

/// By what the row says of itself.
fn entry_by_row(row: &Row) -> Result<&'static CatalogueCell, Skip> {
    let skip = || {
        Skip::new(format!(
            "no catalogue cell for {} {}",
            row.chemistry, row.size
        ))
    };
    let size = row.size.as_str();
    let name = match row.chemistry.as_str() {
        "alkaline" => match size {
            "LR6" | "any" => "alkaline-aa",
            "LR14" => "alkaline-c",
            "LR20" => "alkaline-d",
            _ if size.starts_with("AA ") => "alkaline-aa",
            _ => return Err(skip()),
        },
        "lithium_fes2" if size == "FR6" => "lithium-aa",
        "nimh" if size == "HR6" || size.starts_with('D') => "nimh-aa",
        "lfp" => "lfp-18650",
        "nmc" => "lithium-ion-18650",
        "lead_acid" => return lead_acid(size).ok_or_else(skip),
        _ => return Err(skip()),
    };
    find(name).ok_or_else(skip)
}

/// The battery of just that size, or the largest 12 V one to scale.
fn lead_acid(size: &str) -> Option<&'static CatalogueCell> {
    let exact = size.trim_start_matches("one cell of ");
    let own = exact.split_once(" V ").and_then(|(volts, hours)| {
        find(&format!(
            "lead-acid-{volts}v-{}ah",
            hours.strip_suffix(" Ah")?
        ))
    });
    own.or_else(|| find("lead-acid-12v-7.2ah"))
}

/// The cell under test: the catalogue's, scaled to the size of the row, in series and parallel as
/// it is there.
///
/// # Errors
/// A [`Skip`] where a figure belongs to another build, whatever the scale.
pub(super) fn subject(entry: &RatedCell, row: &Row, state: &State) -> Result<Cell, Skip> {
    let size = row.size.as_str();
    if row.quantity == "resistance_ohm" && (size.starts_with("D ") || size == "26650") {
        return Err(Skip::new(
            "a power cell: its resistance does not scale to ours",
        ));
    }
    if row.quantity == "resistance_ohm" && size.contains("pack") {
        return Err(Skip::new(
            "a pack's upper limit, its protection circuit included",
        ));
    }
    let mut cell = entry.cell;
    let mut share = 1.0;
    if let Some((series, parallel)) = pack(size) {
        cell.in_series = series;
        share = f64::from(parallel);
    } else if let Some(rated) = state.rated.or_else(|| ampere_hours(size)) {
        share = rated / entry.rated;
    }
    if size.starts_with("one cell") {
        cell.in_series = 1;
    }
    Ok(cell.scaled(share))
}

/// `4S5P pack` is four in series and five in parallel.
fn pack(size: &str) -> Option<(u8, u8)> {
    let (series, rest) = size.split_once('S')?;
    let (parallel, _) = rest.split_once('P')?;
    Some((series.parse().ok()?, parallel.parse().ok()?))
}

/// The number before `Ah`; of the cell sizes written without it, what is told elsewhere.
fn ampere_hours(size: &str) -> Option<Charge> {
    if size == "26650" {
        // The charge that the same source's slow discharge gives at 25 °C.
        return Some(Charge::from_milliampere_hours(2060.0));
    }
    let before = size.strip_suffix(')').unwrap_or(size).strip_suffix(" Ah")?;
    let number = before.rsplit([' ', '(']).next()?;
    Some(Charge::from_ampere_hours(number.parse().ok()?))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn sizes_are_read() {
        assert_eq!(pack("4S5P pack 7.5 Ah"), Some((4, 5)));
        assert_eq!(pack("LR6"), None);
        for (size, hours) in [
            ("12 V 4.5 Ah", 4.5),
            ("one cell of 12 V 4.5 Ah", 4.5),
            ("21700 (5 Ah)", 5.0),
            ("D (6.5 Ah)", 6.5),
        ] {
            assert_eq!(ampere_hours(size), Some(Charge::from_ampere_hours(hours)));
        }
        assert_eq!(ampere_hours("LR6"), None);
    }

    /// Rows of a chemistry and a size each, read from a table of that name: the cells they go to.
    fn cells_of(table: &str, rows: &[[&str; 2]]) -> Vec<Option<&'static str>> {
        let mut text = "id,chemistry,size,quantity,condition_temp_C,condition_load,state,cutoff_V,\
                        value,unit,source_id,how,tol_pct,note\n"
            .to_owned();
        for [chemistry, size] in rows {
            text += &format!("a-1,{chemistry},{size},ocv_V,20,open,fresh,,1.6,V,S,seen,1,\n");
        }
        let rows = crate::points::read_rows(table.as_ref(), text.as_bytes()).unwrap();
        let entry = |row: &Row| entry_for(row).ok().map(|entry| entry.name);
        rows.iter().map(entry).collect()
    }

    #[test]
    fn a_table_is_about_the_cell_that_it_is_named_after() {
        let lead = "lead_acid";
        let sizes = [[lead, "one cell"], [lead, "12 V"], [lead, "12 V 4.5 Ah"]];
        for name in [
            "lead-acid-12v-4.5ah",
            "lead-acid-12v-7.2ah",
            "lead-acid-6v-4.5ah",
        ] {
            assert_eq!(cells_of(&format!("{name}.csv"), &sizes), [Some(name); 3]);
        }
        let any = [["alkaline", "any"]];
        assert_eq!(cells_of("alkaline-c.csv", &any), [Some("alkaline-c")]);
    }

    #[test]
    fn rows_of_other_tables_chemistries_and_sizes_go_by_what_they_say() {
        let rows = [
            ["alkaline", "LR14"],
            ["lead_acid", "12 V 4.5 Ah"],
            ["lead_acid", "one cell"],
            ["alkaline", "LR03"],
        ];
        let expected = [
            Some("alkaline-c"),
            Some("lead-acid-12v-4.5ah"),
            Some("lead-acid-12v-7.2ah"),
            None,
        ];
        assert_eq!(cells_of("limits.csv", &rows), expected);
        let here = cells_of("alkaline-d.csv", &rows[1..]);
        assert_eq!(here, expected[1..]);
    }
}
