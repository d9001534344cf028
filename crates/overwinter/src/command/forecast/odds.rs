//! What the sampled seasons say, for a person and for a script.

use overwinter_line::answer::ends::{
    HALF, NINE_TENTHS, TENTH, night_ends, percent, until, upload_ends,
};
use overwinter_line::answer::forecast::Sampled;
use overwinter_line::line::{Camera, Line, Season};
use overwinter_line::odds::{Ends, LineOdds, Odds, Paths};
use overwinter_line::run::CameraRun;
use overwinter_line::words;
use serde_json::{Map, Value, json};
use time::Date;

use super::path::same_weather;
use super::warnings::left_out;
use crate::command::{assumptions, rounded};
use crate::table::{Column, Table};

/// Until when with which odds, and the odds at the dates asked about.
pub(super) fn text(line: &Line, runs: &[CameraRun], sampled: &Sampled) -> String {
    let Paths { count, seed } = sampled.paths;
    // The standard error of a share is largest at one half.
    let error = 50.0 / f64::from(count).sqrt();
    let same = same_weather(&line.climate.origin);
    let weather = if same.is_empty() { "weather, " } else { "" };
    let how = format!(
        "Odds from {count} sampled seasons (seed {seed}): {weather}traffic, cells and draw as they may \
         turn out.{same} In 90 % of the seasons things last at least to the day under \"in 90 %\", and so on; \
         a share is good to {error:.1} % or better, one standard deviation.{}",
        left_out(runs.iter(), "")
    );
    let mut text = assumptions::wrap(&how) + "\n\n" + &until_table(line, &sampled.odds) + "\n\n";
    for date in &sampled.by {
        text += &format!("At the end of {}:\n\n", words::date(*date));
        text += &by_table(line, &sampled.odds, *date);
        text += "\n\n";
    }
    text
}

fn until_table(line: &Line, odds: &LineOdds) -> String {
    let with_card = line.cameras.iter().any(|c| c.draw.card.is_some());
    let season = &line.season;
    let night = [
        ("camera", Column::Left),
        ("night pictures\nin 90 %", Column::Left),
        ("\nin 50 %", Column::Left),
    ];
    let alive = [
        ("alive\nin 90 %", Column::Left),
        ("\nin 50 %", Column::Left),
        ("\nin 10 %", Column::Left),
        ("alive at\nthe end", Column::Right),
    ];
    Table::of(line.cameras.iter().zip(&odds.cameras))
        .with(night, |(camera, odds)| {
            let night = night_ends(camera, odds);
            let night =
                |share| night.map_or("no flash".to_owned(), |ends| until(season, ends, share));
            [camera.name.clone(), night(TENTH), night(HALF)]
        })
        .with_if(
            with_card,
            [("room on card\nin 90 %", Column::Left)],
            |(camera, odds)| {
                let room = camera.draw.card.as_ref();
                [room.map_or("not counted".to_owned(), |_| {
                    until(season, &odds.card_full, TENTH)
                })]
            },
        )
        .with(alive, |(_, odds)| {
            let alive = |share| until(season, &odds.dead, share);
            let at_end = 1.0 - odds.dead.ended_share(f64::from(season.days()));
            [
                alive(TENTH),
                alive(HALF),
                alive(NINE_TENTHS),
                percent(at_end),
            ]
        })
        .text()
}

fn by_table(line: &Line, odds: &LineOdds, date: Date) -> String {
    let head = [
        ("camera", Column::Left),
        ("night pictures", Column::Right),
        ("nothing lost", Column::Right),
        ("alive", Column::Right),
    ];
    let days = days_to(&line.season, date);
    let cameras = Table::of(line.cameras.iter().zip(&odds.cameras));
    let table = cameras.with(head, |(camera, odds)| {
        let still = |ends: &Ends| percent(1.0 - ends.ended_share(days));
        [
            camera.name.clone(),
            night_ends(camera, odds).map_or("no flash".to_owned(), still),
            still(&odds.record_broken),
            still(&odds.dead),
        ]
    });
    table.text()
}

/// Days from the season's start to the end of a date.
fn days_to(season: &Season, date: Date) -> f64 {
    f64::from(date.to_julian_day() - season.start.to_julian_day() + 1)
}

/// What the sampled seasons say of a camera, as keys to stand beside the expected path's.
pub(super) fn camera_json(
    season: &Season,
    camera: &Camera,
    odds: &Odds,
    by: &[Date],
) -> Map<String, Value> {
    let mut keys = Map::new();
    let mut put = |key: String, value: Value| keys.insert(key, value);
    let quantiles = [("p10", TENTH), ("p50", HALF), ("p90", NINE_TENTHS)];
    let ends = [
        ("days", Some(&odds.dead)),
        ("night_pictures_days", night_ends(camera, odds)),
        ("uploads_days", upload_ends(camera, odds)),
        ("card_full_days", Some(&odds.card_full)),
        ("record_days", Some(&odds.record_broken)),
    ];
    for (name, ends) in ends {
        for (quantile, share) in quantiles {
            let days = ends.and_then(|ends| ends.days_at(share));
            let days = days.map_or(Value::Null, |days| rounded(days, 3));
            put(format!("{name}_{quantile}"), days);
        }
    }
    let still = |ends: &Ends, days: f64| rounded(1.0 - ends.ended_share(days), 4);
    let all = f64::from(season.days());
    put("odds_alive_at_end".to_owned(), still(&odds.dead, all));
    put(
        "odds_record_whole_at_end".to_owned(),
        still(&odds.record_broken, all),
    );
    put("mean_triggers".to_owned(), rounded(odds.mean.triggers, 1));
    put(
        "mean_charge_left_fraction".to_owned(),
        rounded(odds.mean.charge_left, 4),
    );
    let at = by.iter().map(|date| {
        let days = days_to(season, *date);
        json!({
            "date": date.to_string(),
            "alive": still(&odds.dead, days),
            "night_pictures": night_ends(camera, odds).map(|ends| still(ends, days)),
            "record_whole": still(&odds.record_broken, days),
        })
    });
    put("odds_by".to_owned(), at.collect());
    keys
}
