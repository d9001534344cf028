//! What the sampled seasons say, for a person.

use overwinter_line::answer::ends::{last_day, percent};
use overwinter_line::answer::forecast::{
    CameraDetails, CameraDocument, CameraOdds, Forecast, Quantiles,
};
use overwinter_line::line::Season;
use overwinter_line::words;

use crate::command::heading::same_weather;
use crate::command::notes::beyond_points;
use crate::command::paragraph::wrap;
use crate::table::{Column, Table};

/// A camera with what the sampled seasons say of it.
type Row<'a> = (&'a CameraDocument, &'a CameraDetails, &'a CameraOdds);

/// Until when with which odds, and the odds at the dates asked about.
pub(super) fn text(forecast: &Forecast, count: u32, seed: u64) -> String {
    let document = &forecast.document;
    // The standard error of a share is largest at one half.
    let error = 50.0 / f64::from(count).sqrt();
    let same = same_weather(document.replayed());
    let weather = if same.is_empty() { "weather, " } else { "" };
    let how = format!(
        "Odds from {count} sampled seasons (seed {seed}): {weather}traffic, cells and the camera's own \
         figures as they may turn out, each drawn from its range.{same} In 90 % of the seasons things last at least to the day under \"in 90 %\", and so on; \
         a share is good to {error:.1} % or better, one standard deviation.{}",
        beyond_points(forecast.details.beyond_points, "")
    );
    let cameras = document.cameras.iter().zip(&forecast.details.cameras);
    let rows: Vec<Row<'_>> = cameras
        .filter_map(|(camera, details)| Some((camera, details, camera.odds.as_ref()?)))
        .collect();
    let mut text = wrap(&how) + "\n\n" + &until_table(&document.season, &rows) + "\n\n";
    let dates = rows.first().map_or(&[][..], |(.., odds)| &odds.by);
    for (place, by) in dates.iter().enumerate() {
        text += &format!("At the end of {}:\n\n", words::date(by.date.0));
        text += &by_table(&rows, place);
        text += "\n\n";
    }
    text
}

fn until_table(season: &Season, rows: &[Row<'_>]) -> String {
    let with_card = rows.iter().any(|(_, details, _)| details.counts_card);
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
    let until = |days| last_day(season, days);
    Table::of(rows)
        .with(night, |(camera, _, odds)| {
            let night = |of: fn(&Quantiles) -> Option<f64>| {
                let night = odds.night_pictures_days.as_ref();
                night.map_or("no flash".to_owned(), |days| until(of(days)))
            };
            [
                camera.name.clone(),
                night(|days| days.p10),
                night(|days| days.p50),
            ]
        })
        .with_if(
            with_card,
            [("room on card\nin 90 %", Column::Left)],
            |(_, details, odds)| {
                [if details.counts_card {
                    until(odds.card_full_days.p10)
                } else {
                    "not counted".to_owned()
                }]
            },
        )
        .with(alive, |(.., odds)| {
            let Quantiles { p10, p50, p90 } = odds.days;
            [
                until(p10),
                until(p50),
                until(p90),
                percent(odds.alive_at_end),
            ]
        })
        .text()
}

/// The odds at one of the dates.
fn by_table(rows: &[Row<'_>], place: usize) -> String {
    let head = [
        ("camera", Column::Left),
        ("night pictures", Column::Right),
        ("nothing lost", Column::Right),
        ("alive", Column::Right),
    ];
    let at = rows
        .iter()
        .filter_map(|(camera, _, odds)| Some((camera, odds.by.get(place)?)));
    let table = Table::of(at).with(head, |(camera, by)| {
        let night = by.night_pictures.map(|share| percent(share.0));
        [
            camera.name.clone(),
            night.unwrap_or_else(|| "no flash".to_owned()),
            percent(by.record_whole.0),
            percent(by.alive.0),
        ]
    });
    table.text()
}
