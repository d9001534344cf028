//! What a frame of energy shows, and its parts.

use super::{Bar, FROM_PACK, FROM_STORE, KEPT_OUT, SPILLED, STORED, Week, WeekEnergy};
use crate::plot::fill::fill;
use crate::plot::picture::{Align, EDGE, LINE, Picture, TEXT, Text, WIDTH, width_of};

/// A sample of the key.
const SAMPLE: i32 = 56;

/// What the frame shows.
pub(super) fn head(picture: &mut Picture, energy: &WeekEnergy, together: usize) {
    let weeks = match together {
        1 => "by week".to_owned(),
        _ => format!("by {together} weeks"),
    };
    let head = format!("energy in and out {weeks}, mean of living cameras");
    let head = Text::new((EDGE, picture.height), head, Align::Left).bold();
    let size = Text::new(
        (WIDTH - EDGE, picture.height),
        energy.size.as_str(),
        Align::Right,
    );
    picture.text(head);
    picture.text(size);
    picture.height += LINE;
}

/// A sample of each part with its sum over the season, as many in a row as there is room for.
pub(super) fn key(picture: &mut Picture, energy: &WeekEnergy) {
    let sum = |of: fn(&Week) -> f64| energy.weeks.iter().map(of).sum::<f64>();
    let has_store = energy.weeks.iter().any(|week| week.dry.is_some());
    let drawn = if has_store {
        "drawn from store"
    } else {
        "drawn"
    };
    let mut entries = vec![
        (STORED, "stored", sum(|week| week.stored_wh)),
        (
            KEPT_OUT,
            "kept out by frost, heat or charge limit",
            sum(|week| week.kept_out_wh),
        ),
        (SPILLED, "spilled: full", sum(|week| week.spilled_wh)),
        (
            FROM_STORE,
            drawn,
            sum(|week| week.drawn_wh - week.from_pack_wh),
        ),
    ];
    if has_store {
        entries.push((FROM_PACK, "drawn from pack", sum(|week| week.from_pack_wh)));
    }
    let mut x = EDGE;
    for (sample, name, wh) in entries {
        let name = format!("{name}, {} Wh", rounded(wh));
        let width = SAMPLE + 16 + width_of(&name, TEXT) + 40;
        if x + width > WIDTH - EDGE {
            x = EDGE;
            picture.height += LINE;
        }
        let y = picture.height;
        fill(picture, (x, y - 18), (x + SAMPLE, y + 18), sample);
        picture.text(Text::new((x + SAMPLE + 16, y), name, Align::Left));
        x += width;
    }
    picture.height += LINE;
}

/// A tenth where it says something.
fn rounded(wh: f64) -> String {
    if wh < 99.95 {
        format!("{wh:.1}")
    } else {
        format!("{wh:.0}")
    }
}

/// Says so where bars go beyond the scale.
pub(super) fn cut_off(picture: &mut Picture, bars: &[Bar], top: f64) {
    let all = bars.iter().map(|bar| bar.over.iter().sum());
    let highest = all.fold(0.0, f64::max);
    if highest > top {
        let note = format!("cut off at the top, where it goes on to {highest:.1} Wh a day at most");
        picture.text(Text::new((EDGE, picture.height), note, Align::Left));
        picture.height += LINE;
    }
}
