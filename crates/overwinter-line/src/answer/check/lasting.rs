//! Cameras that may fail before the season is over, on their own cells.

use overwinter_model::season::Ending;

use super::Finding;
use crate::answer::ends::{TENTH, ended, first_reason, night_ends, percent, until, upload_ends};
use crate::line::{Camera, Line, WeatherOrigin};
use crate::odds::{Ends, Lost, Odds};
use crate::run::CameraRun;

/// Rarer failures are left to `forecast`: one season in twenty (common practice, no source).
const TOLD_ABOVE: f64 = 0.05;

/// More likely than not.
const GRAVE_ABOVE: f64 = 0.5;

/// What fails before the season ends, in which share of the sampled seasons.
pub(super) fn finding(
    line: &Line,
    camera: &Camera,
    run: &CameraRun,
    odds: &Odds,
) -> Option<Finding> {
    let failing = failing(line, camera, odds);
    let text = told(line, &failing)?;
    let path = match line.climate.origin {
        WeatherOrigin::FileHours(_) => "in the file's year",
        _ if camera.panel.is_some() => "with mean weather (no thaw, no clear day)",
        _ => "with mean weather",
    };
    let on_one_path = first_reason(camera, &run.outcome)
        .map_or_else(String::new, |why| format!("; {path} {why}"));
    Some(Finding {
        camera: Some(camera.name.clone()),
        kind: "does-not-last",
        text: text + &on_one_path,
        grave: failing.iter().any(|one| one.share > GRAVE_ABOVE),
    })
}

/// Something that may end within the season.
struct Failing<'a> {
    ending: Ending,
    ends: &'a Ends,
    /// In this share of the seasons, 0 to 1.
    share: f64,
}

fn failing<'a>(line: &Line, camera: &Camera, odds: &'a Odds) -> Vec<Failing<'a>> {
    // Uploads that end with the camera and no sooner are not worth a word of their own.
    let uploads = upload_ends(camera, odds).filter(|ends| *ends != &odds.lost[Lost::Camera]);
    let all = [
        (Ending::NightPictures, night_ends(camera, odds)),
        (Ending::Uploads, uploads),
        (Ending::CardRoom, Some(&odds.lost[Lost::CardRoom])),
        (Ending::Camera, Some(&odds.lost[Lost::Camera])),
    ];
    let season = f64::from(line.season.days());
    let failing = all.into_iter().filter_map(|(ending, ends)| {
        let ends = ends?;
        let share = ends.ended_share(season);
        (share > TOLD_ABOVE).then_some(Failing {
            ending,
            ends,
            share,
        })
    });
    failing.collect()
}

/// `is dead before the season's end in 35 % of sampled seasons (until 26 May 2027 in 90 %)`; what
/// is told after another needs fewer words.
fn told(line: &Line, failing: &[Failing<'_>]) -> Option<String> {
    let told = failing.iter().enumerate().map(|(place, one)| {
        let (verb, share) = (ended(one.ending), percent(one.share));
        let mut told = match place {
            0 => format!("{verb} before the season's end in {share} of sampled seasons"),
            _ => format!("{verb} in {share}"),
        };
        // Of rarer failures nine seasons of ten see nothing.
        if one.share >= TENTH {
            told += &match one.ends.days_at(TENTH) {
                Some(days) if days < 1.0 => " (on the first day in 10 %)".to_owned(),
                _ => {
                    let until = until(&line.season, one.ends, TENTH);
                    format!(" (until {until} in 90 %)")
                }
            };
        }
        told
    });
    let told: Vec<String> = told.collect();
    (!told.is_empty()).then(|| told.join(", "))
}
