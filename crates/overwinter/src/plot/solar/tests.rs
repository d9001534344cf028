//! Pictures of panels as they are laid out; `plot/tests.rs` looks at whether they fit.

use overwinter_line::odds::Kept;
use overwinter_line::odds::{Paths, sample};
use overwinter_line::run::SeasonAir;
use time::Date;
use time::macros::date;

use super::super::picture::{Mark, Point};
use super::super::tests::{LINE_HEAD, SEASON, load, says, texts};
use super::*;
use crate::host::host;

/// Odds that rise with both sizes, from none to all.
fn map(panels: usize, stores: usize) -> PanelMap {
    let share = |place: usize, all: usize| (place + 1) as f64 / all as f64;
    let odds = |store: usize, panel: usize| share(store, stores) * share(panel, panels);
    PanelMap {
        panels_w: (1..=panels).map(|place| 2.5 * place as f64).collect(),
        stores_wh: (1..=stores).map(|place| 20.0 * place as f64).collect(),
        odds: (0..stores)
            .map(|store| (0..panels).map(|panel| odds(store, panel)).collect())
            .collect(),
        wanted_odds: 0.9,
        chosen: Some((panels - 1, stores - 1)),
        own: Some((5.0, 25.0)),
    }
}

/// The store is empty in the fourth week only.
fn energy(start: Date, end: Date, has_store: bool, spilled_wh: f64) -> WeekEnergy {
    let weeks = (end - start).whole_weeks() + 1;
    let week = |place: i64| Week {
        start: start + time::Duration::weeks(place),
        stored_wh: 3.0,
        kept_out_wh: 1.0,
        spilled_wh,
        drawn_wh: 3.5,
        from_pack_wh: if has_store && place == 3 { 2.0 } else { 0.0 },
        dry: has_store.then_some(if place == 3 { 0.4 } else { 0.0 }),
    };
    WeekEnergy {
        size: "10 W, 40 Wh".to_owned(),
        weeks: (0..weeks).map(week).collect(),
        end,
    }
}

fn winter(has_store: bool, spilled_wh: f64) -> WeekEnergy {
    energy(
        date!(2026 - 11 - 01),
        date!(2027 - 03 - 31),
        has_store,
        spilled_wh,
    )
}

fn one(map: Option<PanelMap>, weeks: Option<WeekEnergy>) -> Picture {
    let name = "saddle".to_owned();
    solar(&Solar {
        title: "Upper creek: panels".to_owned(),
        seasons: 1000,
        cameras: vec![CameraSolar { name, map, weeks }],
    })
}

/// Of so many cameras each has better odds than the one before.
pub(in crate::plot) fn line(cameras: usize) -> Solar {
    let camera = |place: usize| {
        let mut map = map(7, 6);
        for odds in map.odds.iter_mut().flatten() {
            *odds = odds.powf(1.0 / (place + 1) as f64);
        }
        CameraSolar {
            name: format!("camera {place}"),
            map: Some(map),
            weeks: Some(winter(place.is_multiple_of(2), 40.0)),
        }
    };
    Solar {
        title: "Upper creek: panels".to_owned(),
        seasons: 1000,
        cameras: (0..cameras).map(camera).collect(),
    }
}

/// Maps of one cell and of many, seasons of a few days and of years, names too long.
pub(in crate::plot) fn pictures() -> Vec<Picture> {
    let mut pictures = vec![solar(&line(9)), one(None, None)];
    for (panels, stores) in [(1, 1), (3, 1), (1, 9), (12, 12), (40, 3)] {
        pictures.push(one(Some(map(panels, stores)), None));
    }
    let mut bare = map(5, 4);
    (bare.chosen, bare.own, bare.wanted_odds) = (None, None, 1.5);
    pictures.push(one(Some(bare), None));
    for end in [
        date!(2026 - 11 - 02),
        date!(2026 - 12 - 04),
        date!(2030 - 04 - 05),
    ] {
        for (has_store, spilled_wh) in [(true, 0.0), (false, 90.0)] {
            let weeks = energy(date!(2026 - 11 - 01), end, has_store, spilled_wh);
            pictures.push(one(None, Some(weeks)));
        }
    }
    let mut dark = winter(true, 0.0);
    for week in &mut dark.weeks {
        (week.stored_wh, week.kept_out_wh) = (0.0, 0.0);
    }
    pictures.push(one(None, Some(dark.clone())));
    for week in &mut dark.weeks {
        week.drawn_wh = 0.0;
    }
    pictures.push(one(None, Some(dark)));
    let mut long = line(1);
    long.cameras[0].name = "a name that is as long as a name may be ".repeat(3);
    pictures.push(solar(&long));
    pictures
}

#[test]
fn a_map_has_each_figure_between_its_sizes() {
    let mut map = map(3, 2);
    map.odds = vec![vec![0.11, 0.12, 0.13], vec![0.21, 0.22, 0.29]];
    let picture = one(Some(map), None);
    let at = |what: &str| -> Point {
        let texts = texts(&picture);
        let found: Vec<_> = texts.iter().filter(|text| text.text == what).collect();
        assert_eq!(found.len(), 1, "{what}");
        found[0].at
    };
    for (wh, figures) in [("20", ["11", "12", "13"]), ("40", ["21", "22", "29"])] {
        for (watts, figure) in ["2.5", "5", "7.5"].into_iter().zip(figures) {
            assert_eq!(at(figure).0, at(watts).0);
            assert!((at(figure).1 - at(wh).1).abs() < 60, "{figure}");
        }
    }
    assert!(at("20").1 > at("40").1, "stores rise upward");
}

#[test]
fn a_map_names_its_lines_marks_and_axes() {
    let picture = one(Some(map(10, 10)), None);
    for what in [
        "saddle",
        "over 1000 sampled seasons",
        "alive at the end, % of seasons",
        "50 %",
        "80 %",
        "90 % wanted",
        "95 %",
        "chosen 25 W, 200 Wh",
        "in the line file 5 W, 25 Wh",
        "panel, W",
        "store, Wh",
    ] {
        assert!(says(&picture, what), "{what}");
    }
    let mut same = map(10, 10);
    same.wanted_odds = 0.95;
    let picture = one(Some(same.clone()), None);
    assert!(says(&picture, "95 % wanted") && !says(&picture, "95 %"));
    same.chosen = None;
    for (odds, note) in [
        (0.94, "no size reaches 95 %"),
        (0.95, "every size reaches 95 %"),
    ] {
        same.odds = vec![vec![odds; 10]; 10];
        let picture = one(Some(same.clone()), None);
        assert!(says(&picture, note), "{note}");
        assert!(!says(&picture, "50 %") && !says(&picture, "95 % wanted"));
    }
}

#[test]
fn a_panel_without_a_store_has_no_watt_hours() {
    let mut map = map(4, 1);
    (map.stores_wh, map.chosen, map.own) = (vec![0.0], Some((3, 0)), Some((5.0, 0.0)));
    let picture = one(Some(map), None);
    assert!(says(&picture, "chosen 10 W") && says(&picture, "in the line file 5 W"));
    assert!(!says(&picture, "store, Wh") && !says(&picture, "0"));
}

#[test]
fn a_figure_below_a_line_is_below_the_lines_own() {
    let mut map = map(2, 1);
    (map.odds, map.wanted_odds) = (vec![vec![0.9499, 0.95]], 0.95);
    let picture = one(Some(map), None);
    assert!(says(&picture, "94") && says(&picture, "95"));
}

/// The middles of shapes that are no cells and no grounds: the marks, each once.
fn marks(picture: &Picture, corners: usize, side: i32) -> Vec<Point> {
    let middle = |points: &[Point]| {
        let xs = points.iter().map(|point| point.0);
        let ys = points.iter().map(|point| point.1);
        let (left, right) = (xs.clone().min()?, xs.max()?);
        let (top, bottom) = (ys.clone().min()?, ys.max()?);
        let fits = right - left == side && bottom - top == side && points.len() == corners;
        fits.then(|| (i32::midpoint(left, right), i32::midpoint(top, bottom)))
    };
    let areas = picture.marks.iter().filter_map(|mark| match mark {
        Mark::Area(points, _) => middle(points),
        _ => None,
    });
    areas.collect()
}

#[test]
fn a_size_between_others_lies_between_them() {
    let picture = one(Some(map(4, 3)), None);
    // In the key, then in the map.
    let own = marks(&picture, 4, 30)[1];
    let at = |what: &str| {
        let texts = texts(&picture);
        let text = texts.into_iter().find(|text| text.text == what);
        text.expect("a label").at
    };
    assert_eq!(own.0, at("5").0);
    assert_eq!(own.1, i32::midpoint(at("20").1, at("40").1));
}

#[test]
fn energy_names_its_parts_and_months() {
    let picture = one(None, Some(winter(true, 10.0)));
    for what in [
        "energy in and out by week, mean of living cameras",
        "10 W, 40 Wh",
        "stored, 66.0 Wh",
        "kept out by frost, heat or charge limit, 22.0 Wh",
        "spilled: full, 220 Wh",
        "drawn from store, 75.0 Wh",
        "drawn from pack, 2.0 Wh",
        "in, Wh a day",
        "out",
        "store empty on a day, % of seasons",
        "Nov",
        "Mar",
        "2027",
    ] {
        assert!(says(&picture, what), "{what}");
    }
    let packed = one(None, Some(winter(false, 0.0)));
    assert!(says(&packed, "drawn, 77.0 Wh"));
    assert!(!says(&packed, "store empty on a day, % of seasons"));
}

#[test]
fn what_goes_beyond_the_scale_is_told() {
    let says_cut = |spilled_wh: f64| {
        let picture = one(None, Some(winter(true, spilled_wh)));
        let texts = texts(&picture);
        texts
            .iter()
            .any(|text| text.text.starts_with("cut off at the top"))
    };
    assert!(says_cut(90.0) && !says_cut(1.0));
    let picture = one(None, Some(winter(true, 66.0)));
    // Of the last week four days are left.
    assert!(says(
        &picture,
        "cut off at the top, where it goes on to 17.5 Wh a day at most"
    ));
}

#[test]
fn a_long_season_joins_weeks() {
    let years = energy(date!(2026 - 11 - 01), date!(2030 - 04 - 05), true, 1.0);
    let picture = one(None, Some(years));
    assert!(says(
        &picture,
        "energy in and out by 2 weeks, mean of living cameras"
    ));
}

#[test]
fn of_many_cameras_those_with_the_lowest_odds_are_drawn() {
    let picture = solar(&line(9));
    let note = "over 1000 sampled seasons; 6 of 9 cameras: those with the lowest odds";
    assert!(says(&picture, note));
    assert!(says(&picture, "camera 5") && !says(&picture, "camera 6"));
}

#[test]
fn weeks_of_sampled_seasons_add_up_to_the_season() {
    // Weeks count living cameras, and where it is colder one dies by its flash.
    let [start, end] = SEASON;
    let mild = LINE_HEAD.replace("boreal-inland", "temperate-inland");
    let text = mild.replace("START", start).replace("END", end);
    let camera = "cell = \"lithium-aa\"\n[activity]\ntriggers_per_day = 8\n\
         [[camera]]\nname = \"saddle\"\nfacing_deg = 10\n\
         panel = { watts = 2, store_cell = \"lfp-18650\", store_wh = 10 }\n";
    let line = load(&(text + camera));
    let cameras: Vec<_> = line.cameras.iter().map(|c| (c, &c.pack)).collect();
    let paths = Paths { count: 16, seed: 1 };
    let kept = Kept {
        sun: true,
        cameras: &[0],
        ..Kept::default()
    };
    let odds = sample(
        &line,
        &SeasonAir::new(&line),
        &cameras,
        paths,
        kept,
        &host(),
    );
    let odds = odds.expect("odds");
    let sun = &odds.cameras[0].sun;
    let energy = WeekEnergy::of("2 W, 10 Wh".to_owned(), &line.season, sun, true);
    assert_eq!(energy.weeks.len(), 22);
    assert_eq!(energy.weeks[21].start, date!(2027 - 03 - 28));
    let mean = sun.mean(0, sun.len());
    assert!(mean.stored_wh > 0.0 && mean.drawn_wh > 0.0);
    let sum = |of: fn(&Week) -> f64| energy.weeks.iter().map(of).sum::<f64>();
    for (sum, all) in [
        (sum(|week| week.stored_wh), mean.stored_wh),
        (sum(|week| week.kept_out_wh), mean.kept_out_wh),
        (sum(|week| week.spilled_wh), mean.spilled_wh),
        (sum(|week| week.drawn_wh), mean.drawn_wh),
        (sum(|week| week.from_pack_wh), mean.from_pack_wh),
    ] {
        assert!((sum - all).abs() <= 1e-9 * all.max(1.0), "{sum} {all}");
    }
    let dry = energy.weeks.iter().map(|week| week.dry.expect("a store"));
    assert!(dry.into_iter().all(|dry| (0.0..=1.0).contains(&dry)));
}
