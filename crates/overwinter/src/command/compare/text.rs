//! Cells side by side for a person.

use overwinter_line::answer::compare::{Compared, ComparedCamera, Fared, alive_at_end, cost};
use overwinter_line::answer::ends::{HALF, TENTH, ends, night_ends, percent, until};
use overwinter_line::answer::path::has_panels;
use overwinter_line::answer::warnings;
use overwinter_line::line::{Camera, Line, Misfit, WeatherOrigin};
use overwinter_line::odds::{Ends, Lost, Paths};
use overwinter_line::run::CameraRun;
use overwinter_model::season::{Cause, Outcome};

use crate::command::heading::line_heading;
use crate::command::notes::{left_out, notes};
use crate::command::paragraph::wrap;
use crate::command::set::cells;
use crate::table::{Column, Table};

/// The answer for a person.
#[must_use]
pub fn text(line: &Line, compared: &Compared<'_>) -> String {
    let mut text = line_heading(line) + "\n" + &wrap(&explained(line, compared)) + "\n\n";
    text += &odds_table(line, &compared.cameras);
    text += "\n\n";
    let misfits = misfits(&compared.cameras);
    if !misfits.is_empty() {
        text += &misfits;
        text += "\n";
    }
    text += &notes(&warnings::of_runs(&line.season, runs(compared)));
    text.truncate(text.trim_end().len());
    text.push('\n');
    text
}

/// Every camera on every cell that fits it.
fn runs<'a>(compared: &'a Compared<'_>) -> impl Iterator<Item = (&'a Camera, &'a CameraRun)> {
    compared.cameras.iter().flat_map(|one| {
        let tries = one.tries.iter();
        let fared = tries.filter_map(|tried| tried.fared.as_ref().ok());
        fared.map(|fared| (one.camera, &fared.run))
    })
}

/// What the columns mean.
fn explained(line: &Line, compared: &Compared<'_>) -> String {
    let Paths { count, seed } = compared.paths;
    let path = match line.climate.origin {
        WeatherOrigin::FileHours(_) => "in the file's year as it was, with mean traffic",
        _ if has_panels(line) => {
            "on one path with mean weather and mean traffic, which meets neither a cold spell nor a \
             thaw, neither a clear day nor a dull one: with a panel it may end sooner or later than \
             most seasons"
        }
        _ => "on one path with mean weather and mean traffic, which meets no cold spell",
    };
    format!(
        "Odds from {count} sampled seasons (seed {seed}), in which every cell meets the same weather \
         and the same animals. Until that day pictures come and the camera lives in so many of them. \
         Expected: days alive and the first to fail {path}.{}",
        left_out(
            runs(compared).any(|(_, run)| run.doubts().next().is_some()),
            " for the cells that the line file has"
        )
    )
}

fn odds_table(line: &Line, cameras: &[ComparedCamera<'_>]) -> String {
    let priced = !line.prices.per_cell.is_empty();
    let head = [
        ("camera", Column::Left),
        ("cells", Column::Left),
        ("night pictures\nin 90 %", Column::Left),
        ("\nin 50 %", Column::Left),
        ("alive\nin 90 %", Column::Left),
        ("\nin 50 %", Column::Left),
        ("alive at\nthe end", Column::Right),
    ];
    let expected = [
        ("expected,\ndays", Column::Right),
        ("first to fail", Column::Left),
    ];
    let rows = cameras.iter().flat_map(|one| {
        let tries = one.tries.iter().enumerate();
        tries.map(move |(place, tried)| (place == 0, one.camera, tried))
    });
    let table = Table::of(rows)
        .with(head, |(first, camera, tried)| {
            let name = if *first { &camera.name } else { "" };
            let [dim_90, dim_50, dead_90, dead_50, at_end] = match &tried.fared {
                Ok(fared) => odds_columns(line, camera, fared),
                Err(_) => ["-"; 5].map(str::to_owned),
            };
            let cells = cells(&(&tried.pack).into());
            [
                name.to_owned(),
                cells,
                dim_90,
                dim_50,
                dead_90,
                dead_50,
                at_end,
            ]
        })
        .with_if(
            priced,
            [("cost of\na set", Column::Right)],
            |(_, _, tried)| {
                let cost = cost(line, &tried.pack);
                [cost.map_or("no price".to_owned(), |cost| {
                    let cost = format!("{cost:.2} {}", line.prices.currency);
                    cost.trim_end().to_owned()
                })]
            },
        )
        .with(expected, |(_, _, tried)| match &tried.fared {
            Ok(Fared { run, .. }) => [
                format!("{:.0}", run.outcome.followed.as_days()),
                first_to_fail(&run.outcome).to_owned(),
            ],
            Err(_) => ["-", "does not fit"].map(str::to_owned),
        });
    table.text()
}

fn odds_columns(line: &Line, camera: &Camera, Fared { odds, .. }: &Fared) -> [String; 5] {
    let until = |ends: &Ends, share| until(&line.season, ends, share);
    let night = |share| {
        let ends = night_ends(camera, odds);
        ends.map_or("no flash".to_owned(), |ends| until(ends, share))
    };
    [
        night(TENTH),
        night(HALF),
        until(&odds.lost[Lost::Camera], TENTH),
        until(&odds.lost[Lost::Camera], HALF),
        percent(alive_at_end(line, odds)),
    ]
}

/// The first thing to fail, in a word or two: `forecast` has its voltage and its temperature.
fn first_to_fail(outcome: &Outcome) -> &'static str {
    let ends = ends(outcome);
    match ends.first().map(|(_, end)| end.cause) {
        None => "nothing",
        Some(Cause::VoltageUnderFlash) => "flash: voltage",
        Some(Cause::VoltageUnderUpload) => "modem: voltage",
        Some(Cause::VoltageUnderPicture) => "picture: voltage",
        Some(Cause::VoltageAsleep) => "standby: voltage",
        Some(Cause::WeakestCellEmpty) => "weakest cell empty",
        Some(Cause::CardFull) => "card full",
        Some(Cause::StoreEmpty) => "store empty",
    }
}

/// Why cells do not fit, where there are such.
fn misfits(cameras: &[ComparedCamera<'_>]) -> String {
    let told = cameras.iter().flat_map(|one| {
        one.tries.iter().filter_map(|tried| {
            let Misfit { what, expected } = tried.fared.as_ref().err()?;
            let (camera, pack) = (&one.camera.name, cells(&(&tried.pack).into()));
            let told = format!("{camera} does not run on {pack}: {what} (expected {expected}).");
            Some(wrap(&told) + "\n")
        })
    });
    told.collect()
}
