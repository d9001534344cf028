//! Options and maps.

use overwinter_line::answer::solar::{Choice, Kind};
use overwinter_line::answer::solar::{Lasting, Planned, Solar, StoreSize};
use overwinter_line::words::plain;

use super::{answer, percent};
use crate::command::set::cells;
use crate::table::{Column, Table};

pub(super) fn options(solar: &Solar, one: &Planned) -> String {
    let currency = &solar.currency;
    let cost = format!("cost, {currency}");
    let head = [
        ("instead", Column::Left),
        ("cells", Column::Left),
        ("alive at\nthe end", Column::Right),
        ("store never\nempty", Column::Right),
        (
            if currency.is_empty() {
                "cost"
            } else {
                cost.as_str()
            },
            Column::Right,
        ),
    ];
    let row = |choice: &&Choice| {
        let (name, panel) = match &choice.kind {
            Kind::CellsAlone => ("the cells alone".to_owned(), false),
            Kind::TwiceTheCells => ("twice the cells".to_owned(), false),
            Kind::Smallest(size) | Kind::PanelAlone(size) => (answer::size(size), true),
        };
        let never_empty = if panel && !one.charges_pack() {
            percent(choice.lasting.never_empty)
        } else {
            "-".to_owned()
        };
        [
            name,
            cells(&choice.set),
            percent(choice.lasting.alive),
            never_empty,
            choice
                .cost
                .map_or("-".to_owned(), |cost| format!("{cost:.2}")),
        ]
    };
    Table::of(&one.choices).with(head, row).text()
}

/// Odds of every size; one line where they are all the same.
pub(super) fn map(one: &Planned) -> String {
    let alive = odds(one, "Alive at the season's end", |lasting| lasting.alive);
    if one.charges_pack() {
        return alive;
    }
    let never_empty = odds(one, "Store never empty", |lasting| lasting.never_empty);
    alive + "\n\n" + &never_empty
}

fn odds(one: &Planned, what: &str, share: fn(&Lasting) -> f64) -> String {
    let mut shares = one.map.points.iter().map(|point| share(&point.lasting));
    if let Some(first) = shares.next()
        && shares.all(|share| (share - first).abs() < 1e-9)
    {
        return format!(
            "{what}: {} with every panel and store of the map.",
            percent(first)
        );
    }
    let rows = one.map.points.chunks(one.map.stores.len().max(1));
    let mut table = Table::of(rows.zip(&one.map.panels_w))
        .with([("panel", Column::Right)], |(_, watts)| {
            [format!("{} W", plain(**watts))]
        });
    for (place, size) in one.map.stores.iter().enumerate() {
        table = table.with([(&store(size), Column::Right)], |(points, _)| {
            let point = points.get(place);
            [point.map_or_else(String::new, |point| percent(share(&point.lasting)))]
        });
    }
    format!("{what}, by panel and store:\n\n{}", table.text())
}

fn store(store: &StoreSize) -> String {
    match store.strings {
        None => format!("{} Wh", plain(store.wh)),
        Some(n) => format!("{n} x\n{:.0} Wh", store.wh / f64::from(n)),
    }
}
