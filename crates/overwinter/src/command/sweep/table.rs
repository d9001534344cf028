//! A sweep's rows for a person.

use overwinter_line::answer::sweep::{RowDetails, RowDocument, SweepAnswer};
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
pub fn text(sweep: &SweepAnswer) -> String {
    let mut text = heading(sweep);
    let shown = Shown::of(sweep);
    text.push_str(&rows_table(sweep, &shown));
    text.push_str("\n\n+ outlives the season.\n");
    text.push_str(&shown.left_out(sweep));
    text.push('\n');
    text.push_str(&notes(&sweep.details.warnings));
    text.truncate(text.trim_end().len());
    text.push('\n');
    text
}

fn heading(sweep: &SweepAnswer) -> String {
    let (document, details) = (&sweep.document, &sweep.details);
    let mut text = document.site.clone();
    if let Some(season) = &details.season {
        let (start, end) = (words::date(season.start), words::date(season.end));
        text.push_str(&format!(", {start} to {end} ({})", season.length()));
    }
    text.push('\n');
    match &details.weather {
        None => text.push_str("Air: by the values of the key that is varied.\n"),
        Some(weather) => {
            text.push_str(&wrap(&format!("Air: {weather}.")));
            text.push('\n');
        }
    }
    let (paths, seed) = (document.paths, document.seed);
    text.push('\n');
    let expected = if details.replayed {
        "the file's year with mean traffic"
    } else {
        "mean weather and mean traffic"
    };
    // Of a share of one half, where it is largest: that of a binomial share.
    let error = 50.0 / f64::from(paths).sqrt();
    text.push_str(&wrap(&format!(
        "Days alive over {paths} sampled seasons at each point (seed {seed}): in one season of ten \
         the camera is dead by p10, in five by p50, in nine by p90. Sampling leaves a share open by \
         {error:.1} % at the worst, one standard deviation.{} Expected: {expected}.",
        same_weather(details.replayed)
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
fn replaced(sweep: &SweepAnswer) -> Vec<String> {
    let mut notes = Vec::new();
    for axis in &sweep.document.axes {
        if !axis.replaced_in_cameras.is_empty() {
            notes.push(format!(
                "{} is varied in every camera: what {} had of its own is replaced too.",
                axis.key,
                axis.replaced_in_cameras.join(", ")
            ));
        }
    }
    let has = |name: &str| sweep.details.axes.iter().any(|axis| axis.name == name);
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
    fn of(sweep: &SweepAnswer) -> Self {
        let cameras = sweep.details.cameras.len();
        let cameras = if sweep.document.rows.len() > MOST_ROWS {
            cameras.min(MOST_CAMERAS)
        } else {
            cameras
        };
        let mut counts: Vec<usize> = sweep
            .document
            .axes
            .iter()
            .map(|axis| axis.values.len())
            .collect();
        // The longest axis loses values until all fit; few stay in any case.
        while counts.iter().product::<usize>() * cameras > MOST_ROWS {
            match counts.iter_mut().max() {
                Some(count) if *count > 3 => *count -= 1,
                _ => break,
            }
        }
        let axes = sweep.document.axes.iter().zip(&counts);
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
    fn left_out(&self, sweep: &SweepAnswer) -> String {
        let mut shown: Vec<String> = Vec::new();
        for (axis, places) in sweep.document.axes.iter().zip(&self.places) {
            let (count, all) = (places.len(), axis.values.len());
            if count < all {
                shown.push(format!("{count} of {all} values of {}", axis.key));
            }
        }
        let (count, all) = (self.cameras, sweep.details.cameras.len());
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
fn rows_table(sweep: &SweepAnswer, shown: &Shown) -> String {
    let (document, details) = (&sweep.document, &sweep.details);
    let rows = || document.rows.iter().zip(&details.rows);
    let fills = rows().any(|(row, _)| row.figures.card_full_days_p50.is_some());
    let days = [
        ("days,\nexpected", Column::Right),
        ("days,\np10", Column::Right),
        ("days,\np50", Column::Right),
        ("days,\np90", Column::Right),
        ("night pictures,\ndays, p50", Column::Right),
        ("alive at\nthe end", Column::Right),
        ("charge left,\nexpected", Column::Right),
    ];
    let cameras = details.cameras.iter().take(shown.cameras);
    let groups = cameras.flat_map(|camera| {
        let own = rows().filter(|(row, _)| row.camera == *camera);
        let own = own.filter(|(_, details)| shown.has(&details.places));
        own.enumerate().map(|(place, row)| (place == 0, row))
    });
    let mut table = Table::of(groups).with([("camera", Column::Left)], |(first, (row, _))| {
        [if *first {
            row.camera.clone()
        } else {
            String::new()
        }]
    });
    let full = [("card full,\ndays, p50", Column::Right)];
    let axes = document.axes.iter().zip(&details.axes);
    for (place, (axis, details)) in axes.enumerate() {
        let stands = match &details.numbers {
            Some(_) => Column::Right,
            None => Column::Left,
        };
        table = table.with([(axis.key.as_str(), stands)], |(_, (row, _))| {
            let value = row.values.0.get(place);
            [value.map_or_else(String::new, |(_, value)| value.0.to_string())]
        });
    }
    table
        .with(days, |(_, (row, details))| figures(row, details))
        .with_if(fills, full, |(_, (row, _))| {
            let days = row.figures.card_full_days_p50;
            [days.map_or_else(String::new, |days| format!("{:.0}", days.0))]
        })
        .text()
}

fn figures(row: &RowDocument, details: &RowDetails) -> [String; 7] {
    let row = &row.figures;
    let days = |days: Option<f64>| match days {
        Some(days) => format!("{days:.0}"),
        None => format!("{}+", row.season_days),
    };
    let expected = Some(row.days_expected.0).filter(|_| !row.expected_outlives_season);
    let [p10, p50, p90] =
        [row.days_p10, row.days_p50, row.days_p90].map(|share| days(share.map(|one| one.0)));
    let night = if details.lit {
        days(row.night_pictures_days_p50.map(|one| one.0))
    } else {
        "no flash".to_owned()
    };
    [
        days(expected),
        p10,
        p50,
        p90,
        night,
        percent(row.odds_alive.0),
        format!("{:.0} %", 100.0 * row.charge_left_fraction.0),
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
