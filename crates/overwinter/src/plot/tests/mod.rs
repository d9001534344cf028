//! Pictures as they are written.

mod names;
mod samples;

use std::path::Path;

use super::forecast::tests::{three_cameras, three_sampled, two_panels};
use super::picture::{Align, Mark, Point, Text, WIDTH, width_of};
use super::*;
use overwinter_line::line::{self, Line};
use samples::{budgets, comparison, curves, every_kind, risks, sun_at};

pub(super) const LINE_HEAD: &str = r#"
[site]
name = "Upper creek"
latitude_deg = 46.5
longitude_deg = -94.0
utc_offset_h = -6
climate = "boreal-inland"
[season]
start = START
end = END
[pack]
series = 8
"#;

/// First and last day where a test asks for no others.
pub(super) const SEASON: [&str; 2] = ["2026-11-01", "2027-03-31"];

pub(super) fn load(text: &str) -> Line {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("line.toml");
    std::fs::write(&path, text).expect("a line file");
    line::load(&crate::host::Disk, &path).expect("a line")
}

pub(super) fn texts(picture: &Picture) -> Vec<&Text> {
    let marks = picture.marks.iter();
    marks
        .filter_map(|mark| match mark {
            Mark::Text(text) => Some(text),
            _ => None,
        })
        .collect()
}

pub(super) fn says(picture: &Picture, what: &str) -> bool {
    texts(picture).iter().any(|text| text.text == what)
}

/// Left, top, right and bottom of a text's letters.
fn box_of(text: &Text) -> [i32; 4] {
    let length = width_of(&text.text, text.size);
    let half = text.size * 2 / 5;
    let back = match text.align {
        Align::Left => 0,
        Align::Middle => length / 2,
        Align::Right => length,
    };
    let (x, y) = text.at;
    if text.upright {
        [x - half, y - (length - back), x + half, y + back]
    } else {
        [x - back, y - half, x - back + length, y + half]
    }
}

#[test]
fn names_are_checked_before_anything_is_drawn() {
    for good in ["a.svg", "a.SVG", "b/c.png", "x.y.Png"] {
        assert!(PictureFile::new(Path::new(good), false).is_ok(), "{good}");
    }
    for bad in ["a", "svg", "a.jpg", "a.svg.gz", ".png", ""] {
        let failure = PictureFile::new(Path::new(bad), false).expect_err(bad);
        assert!(failure.is_of_input());
        let told = failure.to_string();
        assert!(told.contains(".svg") && told.contains(".png"), "{told}");
    }
}

#[test]
fn a_comparison_tells_the_middle_and_who_outlives() {
    let picture = compare(&comparison(2));
    let count = |what: &str| texts(&picture).iter().filter(|t| t.text == what).count();
    assert_eq!(count("outlives, 83 %"), 2);
    assert_eq!(count("lead-acid-12v-4.5ah"), 2);
    assert_eq!((count("99"), count("camera 1")), (1, 1));
    assert_eq!((count("season, 151 days"), count("days")), (1, 1));
    let many = compare(&comparison(20));
    assert!(says(
        &many,
        "12 of 20 cameras: those that end first on alkaline-aa"
    ));
    assert!(says(&many, "camera 19") && !says(&many, "camera 7"));
}

#[test]
fn a_budget_names_its_parts_and_says_how_much_is_gone() {
    let picture = budget(&budgets(3));
    for what in [
        "self-discharge",
        "upload data",
        "110.0 of 132.0 Wh gone in 148 days",
    ] {
        assert!(says(&picture, what), "{what}");
    }
    // What is left is the empty part of the upper bar.
    assert!(!says(&picture, "left in cells"));
    let many = budget(&budgets(20));
    let drawn = texts(&many)
        .iter()
        .filter(|text| text.text.contains(" Wh gone"))
        .count();
    assert_eq!(drawn, 12);
}

#[test]
fn risks_are_told_apart_by_letters_and_the_taken_one_is_marked() {
    let picture = revisit(&risks(4));
    let count = |what: &str| texts(&picture).iter().filter(|t| t.text == what).count();
    // On its curve and in the key; the last camera's never rises.
    assert_eq!(["A", "D", "E"].map(count), [2, 2, 2]);
    assert_eq!((count("5 %"), count("any camera")), (1, 1));
    assert_eq!(count("back by 13 Dec 2026"), 6);
    let many = revisit(&risks(20));
    assert!(says(
        &many,
        "12 of 21 cameras: those that need a visit first"
    ));
    assert!(says(&many, "camera 19") && !says(&many, "camera 7"));
}

#[test]
fn a_discharge_explains_every_letter() {
    let picture = discharge(&curves());
    for letter in ["A", "G"] {
        let texts = texts(&picture);
        assert_eq!(texts.iter().filter(|text| text.text == letter).count(), 2);
    }
    for what in [
        "voltage, V",
        "delivered charge, mAh",
        "flash 1.01",
        "2006 mAh delivered",
    ] {
        assert!(says(&picture, what), "{what}");
    }
}

#[test]
fn a_picture_of_the_sun_names_its_days_lenses_and_directions() {
    let picture = sun_at(46.5, SEASON, &[90, 350]);
    for what in [
        "The sun at Upper creek",
        "1 Nov 2026 to 31 Mar 2027, local standard time (UTC\u{2212}6)",
        "grey: within 30° of a lens's axis",
        "height, degrees",
        "hour of the clock",
        "camera 0 90°",
        "camera 1 350°",
        "31 Mar",
        "21 Dec",
        "SE",
    ] {
        assert!(says(&picture, what), "{what}");
    }
    // The sun stands in the first lens, and never in the other.
    assert!(says(&picture, "camera 0") && !says(&picture, "camera 1"));
}

#[test]
fn of_many_lenses_those_with_most_sun_are_drawn() {
    let facings: Vec<u32> = (0..14).map(|place| 60 + 10 * place).collect();
    let picture = sun_at(46.5, SEASON, &facings);
    let key = "grey: within 30° of a lens's axis; 12 of 14 cameras, the sun longest in them";
    assert!(says(&picture, key));
    assert!(says(&picture, "camera 13 190°") && !says(&picture, "camera 0 60°"));
}

#[test]
fn nothing_leaves_the_canvas_and_no_text_meets_another() {
    // From a day to the longest that a line file may have.
    let ends = [
        "2026-12-24",
        "2026-12-27",
        "2027-01-20",
        "2027-02-07",
        "2028-02-29",
        "2030-04-05",
    ];
    let mut pictures = every_kind();
    for drawn in [three_cameras, three_sampled, two_panels] {
        pictures.extend(ends.map(|end| drawn(["2026-12-24", end])));
    }
    for latitude_deg in [-90.0, -67.0, -38.0, 0.0, 23.4, 69.0, 90.0] {
        for end in ["2026-12-27", "2027-12-01"] {
            let facings: Vec<u32> = (0..13).map(|place| 27 * place).collect();
            pictures.push(sun_at(latitude_deg, ["2026-12-20", end], &facings));
            pictures.push(sun_at(latitude_deg, ["2026-12-20", end], &[90; 5]));
        }
    }
    pictures.extend(solar::tests::pictures());
    for picture in pictures {
        let inside =
            |&(x, y): &Point| (0..=WIDTH).contains(&x) && (0..=picture.height).contains(&y);
        for mark in &picture.marks {
            if let Mark::Path(points, _) | Mark::Area(points, _) = mark {
                assert!(points.iter().all(inside), "{mark:?}");
            }
        }
        let texts = texts(&picture);
        for (place, text) in texts.iter().enumerate() {
            let [left, top, right, bottom] = box_of(text);
            assert!(inside(&(left, top)) && inside(&(right, bottom)), "{text:?}");
            for other in &texts[..place] {
                let [l, t, r, b] = box_of(other);
                let meet = left < r && l < right && top < b && t < bottom;
                assert!(!meet, "{text:?}\n{other:?}");
            }
        }
    }
}

#[test]
fn an_svg_is_whole_and_escaped_and_a_png_decodes() {
    for picture in every_kind() {
        let svg = render::svg(&picture).expect("an SVG");
        let size = format!("<svg width=\"900\" height=\"{}\"", (picture.height + 1) / 2);
        assert!(svg.starts_with(&size), "{}", &svg[..80]);
        assert!(svg.trim_end().ends_with("</svg>"));
        assert_eq!(svg.matches("<text").count(), texts(&picture).len());
        assert_eq!(svg.matches("<text").count(), svg.matches("</text>").count());
        assert!(!svg.contains("<north>"));

        let bytes = render::png(&picture).expect("a PNG");
        let decoder = png::Decoder::new(std::io::Cursor::new(bytes));
        let mut reader = decoder.read_info().expect("a header");
        let mut pixels = vec![0; reader.output_buffer_size().expect("a size")];
        let frame = reader.next_frame(&mut pixels).expect("pixels");
        let size = (WIDTH.unsigned_abs(), picture.height.unsigned_abs());
        assert_eq!((frame.width, frame.height), size);
        // The title is at the top left: without letters that corner would be blank.
        let row_bytes = 3 * frame.width as usize;
        let title = pixels
            .chunks(row_bytes)
            .take(70)
            .flat_map(|row| &row[..3 * 400]);
        assert!(title.filter(|byte| **byte < 0x40).count() > 1000);
    }
}

#[test]
fn dates_have_their_year_in_a_season_longer_than_one() {
    let dates = |picture: &Picture| {
        let month = |text: &str| {
            ["Nov", "Dec", "Jan"]
                .iter()
                .any(|month| text.contains(month))
        };
        let with_day = |text: &&Text| month(&text.text) && text.text.contains(char::is_numeric);
        let texts = texts(picture);
        let texts = texts.into_iter().filter(with_day);
        texts.map(|text| text.text.clone()).collect::<Vec<_>>()
    };
    let has_year = |text: &String| text.contains(" 202");
    for (end, long) in [("2027-10-31", false), ("2028-01-31", true)] {
        let season = ["2026-11-01", end];
        let forecast = dates(&three_cameras(season));
        assert!(
            forecast.iter().any(|text| text.starts_with("dead ")),
            "{forecast:?}"
        );
        let told = forecast.iter().filter(|text| text.starts_with("dead "));
        assert!(
            told.into_iter().all(|text| has_year(text) == long),
            "{forecast:?}"
        );
        let sun = dates(&sun_at(46.5, season, &[90]));
        let named = sun.iter().filter(|text| !text.contains(" to "));
        assert!(named.clone().count() > 0);
        assert!(
            named.into_iter().all(|text| has_year(text) == long),
            "{sun:?}"
        );
    }
    // The sampled forecast has no room for both in a line: years stand below the days.
    let years = |end| {
        let picture = three_sampled(["2026-11-01", end]);
        let texts = texts(&picture);
        let right = texts.iter().filter(|text| text.align == Align::Right);
        right.filter(|text| text.text.starts_with("202")).count()
    };
    assert!(years("2027-10-31") == 0 && years("2028-01-31") > 2);
    let mut long = risks(3);
    for curve in long.cameras.iter_mut().chain([&mut long.any]) {
        curve.by_day = (0..=400).map(|day| f64::from(day) / 400.0).collect();
    }
    let ticks = |risks: &Risks| dates(&revisit(risks));
    let of_axis = |text: &&String| !text.contains("back by") && !text.contains("days after");
    let (long, short) = (ticks(&long), ticks(&risks(3)));
    assert!(long.iter().filter(of_axis).count() > 0);
    assert!(long.iter().filter(of_axis).all(has_year), "{long:?}");
    assert!(!short.iter().filter(of_axis).any(has_year), "{short:?}");
}

#[test]
fn the_same_answer_gives_the_same_bytes() {
    let folder = tempfile::tempdir().expect("a folder");
    for ending in ["svg", "png"] {
        let written = [0, 1].map(|time| {
            let path = folder.path().join(format!("{time}.{ending}"));
            let file = PictureFile::new(&path, false).expect("a picture's name");
            file.write(&three_cameras(SEASON)).expect("a picture");
            std::fs::read(path).expect("a file")
        });
        assert!(written[0] == written[1], "{ending}");
    }
}
