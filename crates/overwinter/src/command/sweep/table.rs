//! A sweep's rows for a person.

use overwinter_line::answer::path::{path_name, replayed};
use overwinter_line::answer::sweep::{Row, Sweep};
use overwinter_line::answer::warnings::told_once;
use overwinter_line::line::Section;
use overwinter_line::words;

use crate::command::heading::same_weather;
use crate::command::notes::notes;
use crate::command::paragraph::wrap;
use crate::table::{Column, Table, evenly};

/// More rows than this are thinned out on a terminal.
const MOST_ROWS: usize = 60;

/// More cameras than this are left out on a terminal.
const MOST_CAMERAS: usize = 12;

/// The answer for a person.
#[must_use]
pub fn text(sweep: &Sweep<'_>, rows: &[Row]) -> String {
    let mut text = heading(sweep);
    let shown = Shown::of(sweep);
    text.push_str(&rows_table(sweep, &shown, rows));
    text.push_str("\n\n+ outlives the season.\n");
    text.push_str(&shown.left_out(sweep));
    text.push('\n');
    let warnings = rows.iter().flat_map(|row| {
        let warnings = row.warnings.iter().cloned();
        warnings.map(|warning| (row.camera.as_str(), row.cell.as_str(), warning))
    });
    text.push_str(&notes(&told_once(warnings)));
    text.truncate(text.trim_end().len());
    text.push('\n');
    text
}

fn heading(sweep: &Sweep<'_>) -> String {
    let line = &sweep.line;
    let varied = |section| sweep.axes.iter().any(|axis| axis.key.section == section);
    let mut text = line.site.clone();
    if !varied(Section::Season) {
        let season = &line.season;
        let (start, end) = (words::date(season.start), words::date(season.end));
        text.push_str(&format!(", {start} to {end} ({})", words::length(season)));
    }
    text.push('\n');
    if varied(Section::Site) {
        text.push_str("Air: by the values of the key that is varied.\n");
    } else {
        text.push_str(&wrap(&format!("Air: {}.", line.climate.origin)));
        text.push('\n');
    }
    let (paths, seed) = (sweep.paths.count, sweep.paths.seed);
    text.push('\n');
    let expected = match path_name(&line.climate.origin) {
        "replayed" => "the file's year with mean traffic",
        _ => "mean weather and mean traffic",
    };
    // Of a share of one half, where it is largest: that of a binomial share.
    let error = 50.0 / f64::from(paths).sqrt();
    text.push_str(&wrap(&format!(
        "Days alive over {paths} sampled seasons at each point (seed {seed}): in one season of ten \
         the camera is dead by p10, in five by p50, in nine by p90. Sampling leaves a share open by \
         {error:.1} % at the worst, one standard deviation.{} Expected: {expected}.",
        same_weather(replayed(&line.climate.origin))
    )));
    text.push('\n');
    for note in replaced(sweep) {
        text.push_str(&wrap(&note));
        text.push('\n');
    }
    text.push('\n');
    text
}

/// What of the file the values replace.
fn replaced(sweep: &Sweep<'_>) -> Vec<String> {
    let mut notes = Vec::new();
    for axis in &sweep.axes {
        let own = sweep.file.overriding(&axis.key);
        if !own.is_empty() {
            notes.push(format!(
                "{} is varied in every camera: what {} had of its own is replaced too.",
                axis.name,
                own.join(", ")
            ));
        }
    }
    let has = |name: &str| sweep.axes.iter().any(|axis| axis.key.name == name);
    if has("cell") && !has("series") {
        notes.push(
            "Of each cell as many as the file says; where that number is for another kind of \
             battery, as many in series as come nearest to the camera's input."
                .to_owned(),
        );
    }
    notes
}

/// What of a long table is shown.
struct Shown {
    /// Of each axis, the numbers of its values.
    places: Vec<Vec<usize>>,
    cameras: usize,
}

impl Shown {
    /// Evenly spread values, the first and the last among them.
    fn of(sweep: &Sweep<'_>) -> Self {
        let cameras = sweep.line.cameras.len();
        let cameras = if cameras * sweep.points() > MOST_ROWS {
            cameras.min(MOST_CAMERAS)
        } else {
            cameras
        };
        let mut counts: Vec<usize> = sweep.axes.iter().map(|axis| axis.values.len()).collect();
        // The longest axis loses values until all fit; few stay in any case.
        while counts.iter().product::<usize>() * cameras > MOST_ROWS {
            match counts.iter_mut().max() {
                Some(count) if *count > 3 => *count -= 1,
                _ => break,
            }
        }
        let axes = sweep.axes.iter().zip(&counts);
        Self {
            places: axes
                .map(|(axis, count)| evenly(axis.values.len(), *count))
                .collect(),
            cameras,
        }
    }

    fn has(&self, places: &[usize]) -> bool {
        let mut axes = self.places.iter().zip(places);
        axes.all(|(shown, place)| shown.contains(place))
    }

    /// What is not shown, and where it is.
    fn left_out(&self, sweep: &Sweep<'_>) -> String {
        let mut shown: Vec<String> = Vec::new();
        for (axis, places) in sweep.axes.iter().zip(&self.places) {
            let (count, all) = (places.len(), axis.values.len());
            if count < all {
                shown.push(format!("{count} of {all} values of {}", axis.name));
            }
        }
        let (count, all) = (self.cameras, sweep.line.cameras.len());
        if count < all {
            shown.push(format!("the first {count} of {all} cameras"));
        }
        if shown.is_empty() {
            return String::new();
        }
        let shown = shown.join(" and ");
        wrap(&format!(
            "Shown: {shown}; --csv FILE.csv and --json have all."
        )) + "\n"
    }
}

/// A group of rows for each camera.
fn rows_table(sweep: &Sweep<'_>, shown: &Shown, rows: &[Row]) -> String {
    let fills = rows.iter().any(|row| row.card_full_days_p50.is_some());
    let days = [
        ("days,\nexpected", Column::Right),
        ("days,\np10", Column::Right),
        ("days,\np50", Column::Right),
        ("days,\np90", Column::Right),
        ("night pictures,\ndays, p50", Column::Right),
        ("alive at\nthe end", Column::Right),
        ("charge left,\nexpected", Column::Right),
    ];
    let cameras = sweep.line.cameras.iter().take(shown.cameras);
    let groups = cameras.flat_map(|camera| {
        let own = rows.iter().filter(|row| row.camera == camera.name);
        let own = own.filter(|row| shown.has(&sweep.places(row.point)));
        own.enumerate().map(|(place, row)| (place == 0, row))
    });
    let mut table = Table::of(groups).with([("camera", Column::Left)], |(first, row)| {
        [if *first {
            row.camera.clone()
        } else {
            String::new()
        }]
    });
    for (place, axis) in sweep.axes.iter().enumerate() {
        let stands = match axis.numbers() {
            Some(_) => Column::Right,
            None => Column::Left,
        };
        table = table.with([(axis.name.as_str(), stands)], |(_, row)| {
            let values = sweep.values(row.point);
            [values
                .get(place)
                .map_or_else(String::new, ToString::to_string)]
        });
    }
    let full = [("card full,\ndays, p50", Column::Right)];
    table
        .with(days, |(_, row)| figures(row))
        .with_if(fills, full, |(_, row)| {
            let days = row.card_full_days_p50;
            [days.map_or_else(String::new, |days| format!("{days:.0}"))]
        })
        .text()
}

fn figures(row: &Row) -> [String; 7] {
    let days = |days: Option<f64>| match days {
        Some(days) => format!("{days:.0}"),
        None => format!("{}+", row.season_days),
    };
    let expected = Some(row.days_expected).filter(|_| !row.outlives);
    let [p10, p50, p90] = row.days.map(days);
    let night = if row.lit {
        days(row.night_days_p50)
    } else {
        "no flash".to_owned()
    };
    [
        days(expected),
        p10,
        p50,
        p90,
        night,
        percent(row.odds_alive),
        format!("{:.0} %", 100.0 * row.charge_left),
    ]
}

/// A share that is not quite none or all is not rounded to it.
fn percent(share: f64) -> String {
    let percent = 100.0 * share;
    match percent {
        p if p > 0.0 && p < 1.0 => "<1 %".to_owned(),
        p if p < 100.0 && p > 99.0 => ">99 %".to_owned(),
        p => format!("{p:.0} %"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn nearly_none_and_nearly_all_are_told() {
        let told = [0.0, 0.002, 0.5, 0.998, 1.0].map(percent);
        assert_eq!(told, ["0 %", "<1 %", "50 %", ">99 %", "100 %"]);
    }
}
