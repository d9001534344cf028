//! What is assumed of triggers against the events of eight forest cameras.
//!
//! Source: Casaer J et al. (2025), GMU8_LEUVEN - Camera trap observations in natural habitats south of
//! Leuven (Belgium), version 1, INBO, CC0 1.0. The files are read from `shared/reference/activity` beside
//! the checkout; where they are absent the tests print `skipped`.

mod counts;
mod events;
mod prediction;

use overwinter_model::{Activity, Counts, Pattern, Place};

use counts::{Estimate, between_deployments, between_halves, dispersion};
use events::{Deployment, deployments};
use prediction::SecondHalf;

/// How far an estimate may lie from what is assumed, in its own sampling errors: two hold in 95 of 100
/// draws.
const STANDARD_ERRORS: f64 = 2.0;

fn forest() -> Option<Vec<Deployment>> {
    let found = deployments();
    if found.is_none() {
        println!("skipped: the events of the forest cameras are not here");
    }
    found
}

fn hold(name: &str, estimate: Estimate, assumed: f64) {
    let Estimate {
        value,
        standard_error,
    } = estimate;
    println!("{name}\t{value:.3} +- {standard_error:.3}\tassumed {assumed:.3}");
    let off = (value - assumed).abs();
    assert!(
        off <= STANDARD_ERRORS * standard_error,
        "{name}: {value} +- {standard_error} for {assumed}"
    );
}

#[test]
fn days_are_as_uneven_as_assumed() {
    let Some(deployments) = forest() else { return };
    let found = Estimate::jackknife(&deployments, dispersion);
    hold("dispersion", found, Counts::USUAL.dispersion);
}

#[test]
fn rates_are_known_as_well_as_assumed() {
    let Some(deployments) = forest() else { return };
    let found = Estimate::jackknife(&deployments, between_deployments);
    hold(
        "rate_sd_ln between deployments of a camera",
        found,
        Counts::USUAL.rate_sd_ln,
    );
    let halves = Estimate::jackknife(&deployments, between_halves);
    hold(
        "rate_sd_ln between halves of a deployment",
        halves,
        Counts::FORTNIGHT_SD_LN,
    );
    // A fortnight later the rate is still much the same; a season later it is not.
    assert!(halves.value < found.value);
}

/// Bands that are meant to hold 80 in 100, of rates that are learned from each deployment's first half
/// alone. With 87 deployments, 70 to 90 is two to two and a half sampling errors of a share of 80.
#[test]
fn second_halves_come_as_first_halves_promise() {
    let Some(deployments) = forest() else { return };
    let halves = (1..).zip(&deployments);
    let halves: Vec<SecondHalf> = halves
        .filter_map(|(stream, deployment)| SecondHalf::new(deployment, stream))
        .collect();
    for half in &halves {
        let [low, high] = half.promised;
        println!(
            "POINT\t{}\t{} days\tlearned {:.2}\tpromised {low:.2} to {high:.2} a day\tseen {:.2}\t{}",
            half.camera,
            half.days,
            half.learned_per_day,
            half.seen_per_day,
            if half.holds() { "holds" } else { "misses" },
        );
    }
    let share = |is: &dyn Fn(&SecondHalf) -> bool| {
        halves.iter().filter(|half| is(half)).count() as f64 / halves.len() as f64
    };
    let held = share(&SecondHalf::holds);
    println!(
        "SUMMARY\tsecond halves\t{}\theld {held:.3}\tbelow {:.3}\tabove {:.3}",
        halves.len(),
        share(&|half| half.seen_per_day < half.promised[0]),
        share(&|half| half.seen_per_day > half.promised[1]),
    );
    assert!((0.7..=0.9).contains(&held), "{held}");
}

/// The part of the events with the sun below the horizon, against what the hours of our patterns make of
/// the days on which the cameras stood there.
#[test]
fn events_fall_into_the_night_as_the_patterns_have_it() {
    let Some(deployments) = forest() else { return };
    let false_only = activity(Pattern::Even, 1.0);
    for (who, activity) in [
        ("blank", false_only),
        ("Sus scrofa", activity(Pattern::Night, 0.0)),
        ("Capreolus capreolus", activity(Pattern::Twilight, 0.0)),
        ("Sciurus vulgaris", activity(Pattern::Day, 0.0)),
    ] {
        let nights: Vec<NightShare> = deployments
            .iter()
            .map(|deployment| NightShare::new(deployment, who, &activity))
            .collect();
        let seen = Estimate::jackknife(&nights, |nights| share(nights, |night| night.seen));
        let assumed = share(&nights.iter().collect::<Vec<_>>(), |night| night.expected);
        hold(&format!("night share {who}"), seen, assumed);
    }
}

fn activity(pattern: Pattern, false_share: f64) -> Activity {
    let counts = Counts {
        false_share,
        ..Counts::USUAL
    };
    let activity = Activity::new([1.0; 12], pattern).and_then(|a| a.with_counts(counts));
    activity.unwrap_or_else(|error| panic!("{error}"))
}

/// One deployment's events by night.
struct NightShare {
    events: f64,
    seen: f64,
    /// Of as many events, by the pattern's hours on the deployment's days.
    expected: f64,
}

impl NightShare {
    fn new(deployment: &Deployment, who: &str, activity: &Activity) -> Self {
        let events = deployment.events.iter().filter(|event| event.who == who);
        let (events, seen) = events.fold((0.0, 0.0), |(events, seen), event| {
            (events + 1.0, seen + f64::from(u8::from(event.by_night)))
        });
        let days = deployment.days();
        let by_night = days.map(|day| {
            let hours = activity.rates_of_day(&place(), day, 0.0);
            hours
                .iter()
                .map(|h| h.per_hour * h.night_share)
                .sum::<f64>()
        });
        let by_night: f64 = by_night.sum();
        Self {
            events,
            seen,
            expected: events * by_night / deployment.daily.len() as f64,
        }
    }
}

fn share(nights: &[&NightShare], of: fn(&NightShare) -> f64) -> f64 {
    let total: f64 = nights.iter().map(|night| night.events).sum();
    nights.iter().map(|night| of(night)).sum::<f64>() / total
}

/// Where the cameras stood, to a few kilometres.
fn place() -> Place {
    Place::new(50.82, 4.67, 1.0).unwrap_or_else(|error| panic!("{error}"))
}
