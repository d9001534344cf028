//! Doubts and warnings about runs, each told once.

use crate::line::Season;
use crate::run::CameraRun;
use crate::words;

/// A doubt or a warning that several runs may share, at its worst.
pub struct Told<'a> {
    /// The cell that it is about.
    pub cell: &'a str,
    /// As the worst run has it.
    pub warning: Warning,
    /// The cameras that have it.
    pub cameras: Vec<&'a str>,
}

/// Warnings by camera and cell, each told once.
pub fn told_once<'a>(warnings: impl Iterator<Item = (&'a str, &'a str, Warning)>) -> Vec<Told<'a>> {
    let mut all: Vec<Told<'a>> = Vec::new();
    for (camera, cell, warning) in warnings {
        let same = |told: &&mut Told<'_>| (told.warning.kind, told.cell) == (warning.kind, cell);
        match all.iter_mut().find(same) {
            Some(told) => {
                if !told.cameras.contains(&camera) {
                    told.cameras.push(camera);
                }
                if warning.weight > told.warning.weight {
                    told.warning = warning;
                }
            }
            None => all.push(Told {
                cell,
                warning,
                cameras: vec![camera],
            }),
        }
    }
    all
}

/// A doubt or a warning about one run.
#[derive(Clone)]
pub struct Warning {
    /// Its name in JSON.
    pub kind: &'static str,
    /// Of two of one kind, the heavier is told.
    weight: f64,
    /// For a person.
    pub text: String,
}

/// Doubts and warnings of one run.
pub fn warnings(season: &Season, run: &CameraRun) -> Vec<Warning> {
    let cell = &run.pack.cell.cell;
    let mut warnings: Vec<Warning> = run
        .doubts()
        .map(|doubt| {
            let (kind, text) = words::doubt(&doubt);
            let uncertainty = 100.0 * cell.cold_uncertainty;
            Warning {
                kind,
                weight: words::how_far(&doubt),
                text: format!("{text}, perhaps {uncertainty:.0} % off"),
            }
        })
        .collect();
    if let Some(after) = run.outcome.under_floor {
        let on = words::date(season.date(after));
        let text = format!(
            "from {on} the weakest cell is pulled under {}, where it may leak or reverse; take \
             spent cells out",
            words::volts(cell.floor)
        );
        warnings.push(Warning {
            kind: "cell-under-floor",
            weight: -after.as_days(),
            text,
        });
    }
    warnings
}
