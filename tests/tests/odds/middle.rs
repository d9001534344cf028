//! Half of the paths against the expected path.

use std::path::Path;

use overwinter_line::line::load;
use overwinter_line::run::{SeasonAir, run_camera};
use overwinter_model::season::End;
use overwinter_tests::surroundings::Disk;

use crate::lines::sampled;

/// What moves the middle of the paths away from the expected path, by leaving out one kind of chance
/// after another (first-camera's gate, days to the first lost night picture: 80 on the expected path):
///
/// - a path asks for a picture at the temperature at which it comes, the expected path at the coldest
///   moment: 90 with nothing else left to chance;
/// - nights colder than an ordinary one, of which the expected path has none and the first is enough: 62;
/// - a rate of which only the mean is as said, so that half of the rates are below 0.84 of it: 100
///   without those nights;
/// - cells, draw and the doubt about the cold spread the ends but hardly move the middle: 89, 92, 85.
///
/// Together 59. In the examples the middle lies at 0.6 to 1.1 of the expected days; beyond the limits
/// below something else has come in.
#[test]
fn half_of_the_paths_end_about_when_the_expected_path_does() {
    let examples = Path::new(env!("CARGO_MANIFEST_DIR")).join("../examples");
    for name in ["northern-winter", "southern-autumn", "first-camera"] {
        let line = load(&Disk, &examples.join(name).with_extension("toml"))
            .unwrap_or_else(|why| panic!("{why:?}"));
        let air = SeasonAir::new(&line);
        let odds = sampled(&line, 600, 1);
        for (camera, odds) in line.cameras.iter().zip(&odds.cameras) {
            let run =
                run_camera(&line, &air, camera, &camera.pack).unwrap_or_else(|why| panic!("{why}"));
            let day = |end: Option<End>| end.map_or(f64::INFINITY, |end| end.after.as_days());
            for (end, expected, ends) in [
                (
                    "night pictures",
                    run.outcome.night_pictures_lost,
                    &odds.night_pictures_lost,
                ),
                ("dead", run.outcome.dead, &odds.dead),
            ] {
                let at = |share| ends.days_at(share).unwrap_or(f64::INFINITY);
                let [low, middle, high] = [0.1, 0.5, 0.9].map(at);
                let expected = day(expected);
                println!(
                    "POINT\t{name}\t{}\t{end}\tp10 {low:.1} p50 {middle:.1} p90 {high:.1}\texpected {expected:.1}",
                    camera.name
                );
                if middle.is_finite() && expected.is_finite() {
                    let ratio = middle / expected;
                    assert!((0.5..1.25).contains(&ratio), "{} {end}", camera.name);
                }
            }
        }
    }
}
