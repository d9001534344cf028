//! What comes after a day has no part in it: a season that goes on longer is the same until then.

use overwinter_line::odds::{Ends, LineOdds};
use overwinter_tests::files::data;
use proptest::prelude::*;

use crate::laws::by_hour;
use crate::lines::{line_of, sampled};

/// More than two groups of paths that are followed side by side.
const PATHS: u32 = 40;

/// A line of two cameras, one of which may be dead within days.
#[derive(Clone, Debug)]
struct Random {
    latitude_deg: f64,
    january_c: f64,
    /// Hours of a file in place of normals.
    replayed: bool,
    /// Year and day of it.
    start: (i32, u16),
    days: u32,
    more_days: u32,
    kind: &'static str,
    cell: &'static str,
    standby_mw: f64,
    triggers_per_day: f64,
    card_gb: f64,
    panel: String,
}

fn panel() -> impl Strategy<Value = String> {
    let watts = 0.05..3.0_f64;
    let table = |keys: String| format!("panel = {{ {keys} }}\n");
    prop_oneof![
        2 => Just(String::new()),
        1 => watts.clone().prop_map(move |watts| table(format!("watts = {watts:.3}, charges = \"pack\""))),
        1 => (watts, 0.5..20.0_f64).prop_map(move |(watts, wh)| {
            table(format!("watts = {watts:.3}, store_wh = {wh:.2}, charges = \"store\""))
        }),
    ]
}

prop_compose! {
    fn random()(
        latitude_deg in -60.0..65.0_f64,
        january_c in -25.0..15.0_f64,
        replayed in prop::bool::weighted(0.25),
        start in prop_oneof![Just((2026, 263)), Just((2026, 361)), Just((2027, 74))],
        days in 1..60_u32,
        more_days in 1..60_u32,
        kind in prop::sample::select(vec!["stills", "video", "stills-cat1"]),
        standby_mw in prop_oneof![0.5..5.0_f64, 5.0..300.0_f64],
        triggers_per_day in prop_oneof![0.5..10.0_f64, 10.0..200.0_f64],
        card_gb in prop_oneof![0.01..0.1_f64, 0.1..32.0_f64],
        panel in panel(),
        primary in any::<bool>(),
    ) -> Random {
        // Only cells that can be charged go with a panel that charges them.
        let cell = match primary && !panel.contains("pack") {
            true => "alkaline-aa",
            false => "nimh-aa",
        };
        Random {
            latitude_deg, january_c, replayed, start, days, more_days, kind, cell, standby_mw,
            triggers_per_day, card_gb, panel,
        }
    }
}

impl Random {
    /// The first `days` of its season, sampled.
    fn sampled(&self, days: u32) -> LineOdds {
        let months = |above: f64| -> Vec<f64> {
            let turn = std::f64::consts::TAU / 12.0;
            let of_month =
                |month: u32| self.january_c + 8.0 - 8.0 * (f64::from(month) * turn).cos();
            (0..12)
                .map(|month| ((of_month(month) + above) * 10.0).round() / 10.0)
                .collect()
        };
        let weather = if self.replayed {
            let file = data("climate/greensboro-tmy3.csv");
            format!("weather = \"{}\"\nweather_use = \"hours\"", file.display())
        } else {
            format!(
                "[site.normals]\nmean_c = {:?}\ndaily_max_c = {:?}\ndaily_min_c = {:?}",
                months(0.0),
                months(4.0),
                months(-4.0),
            )
        };
        let Self {
            latitude_deg,
            start,
            kind,
            cell,
            standby_mw,
            triggers_per_day,
            card_gb,
            panel,
            ..
        } = self;
        let start = time::Date::from_ordinal_date(start.0, start.1).unwrap();
        let end = start + time::Duration::days(i64::from(days) - 1);
        let upload = match *kind {
            "stills-cat1" => ", upload = \"daily\"",
            _ => "",
        };
        let text = format!(
            "[site]\nlatitude_deg = {latitude_deg:.2}\nlongitude_deg = 10\nutc_offset_h = 1\n{weather}\n\
             [season]\nstart = {start}\nend = {end}\n\
             [activity]\ntriggers_per_day = {triggers_per_day:.3}\n\
             [[camera]]\nname = \"busy\"\npack = {{ cell = \"{cell}\" }}\n\
             draw = {{ kind = \"{kind}\", standby_mw = {standby_mw:.3} }}\n\
             settings = {{ card_gb = {card_gb:.3}{upload} }}\n{panel}\
             [[camera]]\nname = \"plain\"\npack = {{ cell = \"alkaline-aa\" }}\n",
        );
        sampled(&line_of("end", &text), PATHS, 7)
    }
}

fn every_end(odds: &LineOdds) -> Vec<&Ends> {
    let of_cameras = odds.cameras.iter().flat_map(|odds| {
        [
            &odds.night_pictures_lost,
            &odds.night_pictures_ended,
            &odds.uploads_ended,
            &odds.card_full,
            &odds.dead,
            &odds.record_broken,
            &odds.store_empty,
        ]
    });
    of_cameras.chain([&odds.line_broken]).collect()
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(60))]

    /// To the hour: as many paths have ended in each.
    #[test]
    fn a_longer_season_is_the_same_until_the_shorter_ends(random in random()) {
        let shorter = random.sampled(random.days);
        let longer = random.sampled(random.days + random.more_days);
        for (number, (short, long)) in every_end(&shorter).iter().zip(every_end(&longer)).enumerate() {
            let hours = random.days * 24;
            prop_assert_eq!(by_hour(short, PATHS, hours), by_hour(long, PATHS, hours), "{}", number);
        }
    }
}

/// A camera that is expected to last longer than its season, and less long than a longer one.
#[test]
fn a_camera_expected_to_end_between_two_seasons_is_the_same_in_both() {
    let random = Random {
        latitude_deg: 21.7,
        january_c: 2.0,
        replayed: false,
        start: (2026, 361),
        days: 30,
        more_days: 40,
        kind: "stills-cat1",
        cell: "alkaline-aa",
        standby_mw: 3.5,
        triggers_per_day: 9.0,
        card_gb: 32.0,
        panel: String::new(),
    };
    let (shorter, longer) = (random.sampled(30), random.sampled(70));
    let dead = [&shorter, &longer].map(|odds| by_hour(&odds.cameras[0].dead, PATHS, 30 * 24));
    assert_eq!(dead[0], dead[1]);
    assert!(dead[0].iter().sum::<i64>() > 0, "none dies");
    assert!(longer.cameras[0].dead.ended_share(70.0) > shorter.cameras[0].dead.ended_share(30.0));
}
