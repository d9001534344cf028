//! Pictures of sweeps as they are laid out; `plot/tests.rs` looks at whether they fit.

use super::super::tests::{says, texts};
use super::*;
use crate::plot::discharge::STROKES;
use crate::plot::picture::{Mark, Stroke};

const SEASON_DAYS: f64 = 166.0;

fn axis(title: &str, labels: &[&str]) -> SweptAxis {
    SweptAxis {
        title: title.to_owned(),
        labels: labels.iter().map(|label| (*label).to_owned()).collect(),
        numbers: labels.iter().map(|label| label.parse().ok()).collect(),
    }
}

fn numbers(title: &str, count: usize) -> SweptAxis {
    let labels: Vec<String> = (1..=count).map(|number| number.to_string()).collect();
    axis(
        title,
        &labels.iter().map(String::as_str).collect::<Vec<_>>(),
    )
}

/// So many days at half of the paths; those beyond the season outlive it.
fn point(days: f64) -> SweptPoint {
    SweptPoint {
        days: [0.8, 1.0, 1.2]
            .map(|luck| days * luck)
            .map(|days| Some(days).filter(|days| *days < SEASON_DAYS)),
        season_days: SEASON_DAYS,
    }
}

/// Each camera lasts longer than the one before, and every one shorter from point to point.
fn swept(axes: Vec<SweptAxis>, cameras: usize) -> Swept {
    let points: usize = axes.iter().map(|axis| axis.labels.len()).product();
    let cameras = (0..cameras).map(|camera| SweptCamera {
        name: format!("camera {camera}"),
        points: (0..points)
            .map(|place| {
                let share = place as f64 / points as f64;
                point(40.0 * (camera as f64 + 1.0) * (1.0 - 0.7 * share))
            })
            .collect(),
    });
    Swept {
        title: "Upper creek: days alive by shots".to_owned(),
        axes,
        cameras: cameras.collect(),
    }
}

/// Every kind of picture: many cameras in one place at the season's end, names too long for their
/// columns, maps with numbers in their cells and with lines between them.
pub(in crate::plot) fn pictures() -> Vec<Picture> {
    let cells = || {
        let names = [
            "alkaline-aa",
            "lead-acid-12v-7.2ah",
            "lithium-ion-18650",
            "nimh-aa",
        ];
        axis("cell", &names)
    };
    let all = [
        (vec![numbers("shots", 5)], 9),
        (vec![numbers("standby, µA", 300)], 2),
        (vec![numbers("shots", 1)], 2),
        (vec![cells()], 5),
        (vec![numbers("shots", 6), numbers("triggers per day", 9)], 8),
        (vec![numbers("shots", 40), numbers("quiet, s", 40)], 2),
        (vec![numbers("shots", 300), numbers("quiet, s", 200)], 1),
        (vec![cells(), numbers("shots", 3)], 2),
        (vec![cells(), axis("pattern", &["even", "twilight"])], 2),
    ];
    all.into_iter()
        .map(|(axes, cameras)| sweep(&swept(axes, cameras)))
        .collect()
}

#[test]
fn of_many_cameras_the_first_to_end_are_drawn() {
    let lines = sweep(&swept(vec![numbers("shots", 5)], 9));
    assert!(says(&lines, "6 of 9 cameras: those that end first"));
    assert!(says(&lines, "camera 5") && !says(&lines, "camera 6"));
    let maps = sweep(&swept(vec![numbers("shots", 6), numbers("quiet, s", 4)], 7));
    assert!(says(&maps, "6 of 7 cameras: those that end first"));
    assert!(says(&maps, "camera 5") && !says(&maps, "camera 6"));
}

#[test]
fn axes_carry_their_keys_and_units() {
    let map = sweep(&swept(
        vec![numbers("standby, µA", 3), numbers("quiet, s", 3)],
        1,
    ));
    for what in ["standby, µA", "quiet, s", "days"] {
        assert!(says(&map, what), "{what}");
    }
    let lines = sweep(&swept(vec![numbers("standby, µA", 3)], 1));
    assert!(says(&lines, "standby, µA") && says(&lines, "days alive"));
}

#[test]
fn the_scale_reaches_to_the_season_only_where_lines_do() {
    let says_season = |days: f64| {
        let mut swept = swept(vec![numbers("shots", 3)], 1);
        swept.cameras[0].points = vec![point(days); 3];
        let picture = sweep(&swept);
        let texts = texts(&picture);
        texts.iter().any(|text| text.text.contains("season's end"))
    };
    assert!(says_season(150.0) && says_season(500.0) && !says_season(30.0));
}

#[test]
fn a_map_has_each_value_at_its_place() {
    let mut swept = swept(
        vec![axis("a", &["1", "2"]), axis("b", &["10", "20", "30"])],
        1,
    );
    // The second key's values change first. No tick of the colour bar has one of these numbers.
    for (place, point) in swept.cameras[0].points.iter_mut().enumerate() {
        point.days = [Some(0.0), Some(61.0 + 17.0 * place as f64), None];
    }
    let map = sweep(&swept);
    let at = |what: &str| {
        let found: Vec<_> = texts(&map)
            .into_iter()
            .filter(|text| text.text == what)
            .map(|text| text.at)
            .collect();
        assert_eq!(found.len(), 1, "{what}");
        found[0]
    };
    for (place, (column, row)) in [
        ("1", "10"),
        ("1", "20"),
        ("1", "30"),
        ("2", "10"),
        ("2", "20"),
        ("2", "30"),
    ]
    .into_iter()
    .enumerate()
    {
        let cell = at(&(61 + 17 * place).to_string());
        assert_eq!((cell.0, cell.1), (at(column).0, at(row).1));
    }
    assert!(at("10").1 > at("30").1, "numbers rise upward");
}

#[test]
fn what_outlives_the_season_is_marked() {
    let map = sweep(&swept(vec![numbers("shots", 3), numbers("quiet, s", 3)], 9));
    assert!(says(&map, "166+"));
    let rows = sweep(&swept(vec![axis("cell", &["a", "b"])], 9));
    assert!(says(&rows, "166+ (166+ to 166+)"));
}

#[test]
fn cameras_that_do_alike_are_all_seen() {
    let mut swept = swept(vec![numbers("shots", 6)], 3);
    let points = swept.cameras[0].points.clone();
    for camera in &mut swept.cameras {
        camera.points.clone_from(&points);
    }
    let picture = sweep(&swept);
    let marks = |stroke: &Stroke| {
        let areas = picture.marks.iter();
        areas
            .filter(|mark| matches!(mark, Mark::Area(_, colour) if *colour == stroke.colour))
            .count()
    };
    // A third of the points each, and one beside the name.
    assert_eq!(
        STROKES[..3].iter().map(marks).collect::<Vec<_>>(),
        [3, 3, 3]
    );
    // The whole line lies under the dashed ones.
    let colours = picture.marks.iter().filter_map(|mark| match mark {
        Mark::Path(_, stroke) if stroke.width == STROKES[0].width => Some(stroke.colour),
        _ => None,
    });
    assert_eq!(
        colours.collect::<Vec<_>>(),
        [0, 1, 2].map(|place| STROKES[place].colour)
    );
}
