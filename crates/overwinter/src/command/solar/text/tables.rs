//! Options and maps.

use super::{answer, percent};
use crate::command::forecast::cells;
use crate::command::solar::options::{Choice, Kind};
use crate::command::solar::{Lasting, Planned, Solar, StoreSize};
use crate::keys::plain;
use crate::table::{Column, table};

pub(super) fn options(solar: &Solar<'_>, one: &Planned) -> String {
    let currency = &solar.line.prices.currency;
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
    let row = |choice: &Choice| {
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
        vec![
            name,
            cells(&choice.pack),
            percent(choice.lasting.alive),
            never_empty,
            choice
                .cost
                .map_or("-".to_owned(), |cost| format!("{cost:.2}")),
        ]
    };
    table(&head, one.choices.iter().map(row).collect())
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
    let names: Vec<String> = one.map.stores.iter().map(store).collect();
    let mut head = vec![("panel", Column::Right)];
    head.extend(names.iter().map(|name| (name.as_str(), Column::Right)));
    let rows = one.map.points.chunks(one.map.stores.len().max(1));
    let rows = rows.zip(&one.map.panels_w).map(|(row, watts)| {
        let mut cells = vec![format!("{} W", plain(*watts))];
        cells.extend(row.iter().map(|point| percent(share(&point.lasting))));
        cells
    });
    format!(
        "{what}, by panel and store:\n\n{}",
        table(&head, rows.collect())
    )
}

fn store(store: &StoreSize) -> String {
    match store.strings {
        None => format!("{} Wh", plain(store.wh)),
        Some(n) => format!("{n} x\n{:.0} Wh", store.wh / f64::from(n)),
    }
}
