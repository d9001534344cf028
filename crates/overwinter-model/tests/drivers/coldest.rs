//! At how cold a moment sampled seasons ask for a voltage: the coldest of so many moments, of which the mean
//! season takes the coldest that there is.

use overwinter_model::Temperature;
use overwinter_model::draw::UploadMode;
use overwinter_model::lanes::Lanes;
use overwinter_model::paths::{Expected, Followed, Luck, Prepared, Traffic};
use overwinter_model::season::Scenario;
use proptest::prelude::*;

use crate::cases::camera::{Full, Season, full};
use crate::cases::driver::{DEAD, NIGHT_PICTURES, UPLOADS, ends, follow};

/// As many animals as are expected, which come at moments of their own.
struct AtMoments;

impl Traffic<1> for AtMoments {
    const ASKED_AT_COLDEST: bool = false;

    fn of_block(&mut self, _: u32, _: u32, (day, night): (f64, f64)) -> (Lanes<1>, Lanes<1>) {
        (Lanes::all(day), Lanes::all(night))
    }
}

/// How far a block's coldest moment lies below its mean.
const BELOW_MEAN_K: f64 = 6.0;

/// A season of one temperature, with coldest moments so far below it.
fn season(full: &Full, below_mean_k: f64) -> Season {
    let air = Temperature::from_celsius(full.sunny.case.mean_c);
    full.season().with_hours(move |hour| {
        hour.air = air;
        hour.coldest = Temperature::from_kelvin(air.as_kelvin() - below_mean_k);
    })
}

fn followed<T: Traffic<1>>(
    scenario: &Scenario,
    season: &Season,
    hours: usize,
    traffic: &mut T,
) -> Followed<1> {
    let prepared = Prepared::new(scenario);
    let blocks = season.blocks(scenario, hours);
    follow(
        &prepared.as_said(),
        &blocks,
        24 / hours,
        &[],
        &Luck::NONE,
        traffic,
        &mut |_, _| {},
    )
}

/// Something that comes `times` in a block is asked as deep as the coldest of so many moments lies in the
/// mean, which are spread evenly between the coldest and as much above the mean: asked where it always comes
/// at the coldest, in a season whose coldest lies there, it ends `what` just then.
fn is_asked_at_the_coldest_of(
    full: &Full,
    scenario: &Scenario,
    hours: usize,
    times: f64,
    what: usize,
) -> Result<(), TestCaseError> {
    let at_moments = followed(scenario, &season(full, BELOW_MEAN_K), hours, &mut AtMoments);
    let below_mean_k = BELOW_MEAN_K * (1.0 - 2.0 / (times + 1.0));
    let at_coldest = followed(scenario, &season(full, below_mean_k), hours, &mut Expected);
    let of = |followed: &Followed<1>| {
        let days = ends(followed);
        days[what].0[0].min(days[DEAD].0[0]).to_bits()
    };
    prop_assert_eq!(of(&at_moments), of(&at_coldest), "{} times", times);
    Ok(())
}

/// What comes of triggers in a block by day, by night and in all, where they come in every hour alike.
struct Times {
    day: f64,
    night: f64,
}

/// A camera without a panel that is triggered alike in every hour, and of whose hours this share is dark.
fn plain(full: &Full) -> Full {
    Full {
        has_panel: false,
        card_mb: None,
        idle_until: 0,
        scheduled_per_day: 0.0,
        twilight: 0.0,
        ..full.clone()
    }
}

fn times(scenario: &Scenario, full: &Full, hours: usize) -> Times {
    let rate = full.sunny.case.triggers_per_hour;
    Times {
        day: scenario.draw.answered(rate, 0.0).0 * hours as f64,
        night: scenario.draw.answered(0.0, rate).1 * hours as f64,
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]

    #[test]
    fn pictures_are(full in full(), hours in prop::sample::select(vec![1_usize, 2, 6])) {
        let full = plain(&full);
        let mut scenario = full.scenario(1.0);
        scenario.draw.upload = None;
        scenario.draw.check_in = None;
        // By day the flash is not used, and by night no picture without it fails first.
        let times = times(&scenario, &full, hours);
        prop_assume!(scenario.draw.night_trigger.is_lit() && times.night > 0.0);
        is_asked_at_the_coldest_of(&full, &scenario, hours, times.night, NIGHT_PICTURES)?;
    }

    #[test]
    fn sessions_are(full in full(), hours in prop::sample::select(vec![1_usize, 2, 4, 12])) {
        let full = plain(&full);
        let mut scenario = full.scenario(1.0);
        scenario.draw.check_in = None;
        // Lights that differ would answer other numbers.
        scenario.draw.night_trigger = scenario.draw.day_trigger.clone();
        prop_assume!(scenario.draw.upload.is_some());
        if let Some(upload) = &mut scenario.draw.upload {
            upload.mode = UploadMode::Each;
            upload.lowest = scenario.draw.cut_off * 1.25;
        }
        let times = times(&scenario, &full, hours);
        prop_assume!(times.day > 0.0);
        is_asked_at_the_coldest_of(&full, &scenario, hours, times.day, UPLOADS)?;
    }

    #[test]
    fn reports_are(full in full(), hours in prop::sample::select(vec![1_usize, 2, 4, 12]), twilight in 0.0..1.0_f64) {
        let mut full = Full { twilight, ..plain(&full) };
        full.sunny.case.triggers_per_hour = 0.0;
        let mut scenario = full.scenario(1.0);
        scenario.draw.upload = None;
        let Some(check_in) = &mut scenario.draw.check_in else { return Ok(()) };
        check_in.per_day = check_in.per_day.max(1.0);
        check_in.lowest = scenario.draw.cut_off * 1.25;
        let times = check_in.per_day * hours as f64 / 24.0;
        is_asked_at_the_coldest_of(&full, &scenario, hours, times, UPLOADS)?;
    }
}
