//! What the first half of a deployment promises of its second.

use overwinter_model::Counts;
use overwinter_model::paths::{CameraChances, Drawn, Traffic};
use overwinter_model::random::{GammaQuantile, Key};

use super::events::Deployment;

const LANES: usize = 16;
const GROUPS: u32 = 125;
const SEED: Key = Key(20_261_125);

/// A deployment's second half, as it was promised and as it came.
pub(super) struct SecondHalf {
    pub(super) camera: String,
    pub(super) days: usize,
    /// Events on each day of the first half.
    pub(super) learned_per_day: f64,
    /// 10 and 90 in 100 paths have so many events a day or fewer.
    pub(super) promised: [f64; 2],
    pub(super) seen_per_day: f64,
}

impl SecondHalf {
    /// `None` for a deployment of one day.
    pub(super) fn new(deployment: &Deployment, stream: u32) -> Option<Self> {
        let (first, second) = deployment.daily.split_at(deployment.daily.len() / 2);
        let events = |days: &[u32]| days.iter().map(|count| f64::from(*count)).sum::<f64>();
        let learned = Counts::USUAL.learned(events(first), first.len() as f64);
        let (rate, counts) = learned?;
        let mut totals = sampled(rate, &counts, stream, second.len());
        totals.sort_by(f64::total_cmp);
        let days = second.len() as f64;
        let at = |share: f64| totals[(share * totals.len() as f64) as usize] / days;
        Some(Self {
            camera: deployment.camera.clone(),
            days: second.len(),
            learned_per_day: rate,
            promised: [at(0.1), at(0.9)],
            seen_per_day: events(second) / days,
        })
    }

    pub(super) fn holds(&self) -> bool {
        let [low, high] = self.promised;
        (low..=high).contains(&self.seen_per_day)
    }
}

/// Events of so many days at a rate learned, by the counts that the paths of a camera have: one total a
/// path.
fn sampled(rate: f64, counts: &Counts, stream: u32, days: usize) -> Vec<f64> {
    let day_share = GammaQuantile::new(counts.dispersion).unwrap_or_else(|why| panic!("{why}"));
    let chances = CameraChances {
        stream,
        day_share,
        rate_sd_ln: counts.rate_sd_ln,
        airtime_sd_ln: 0.0,
        model: 1,
        purchase: 1,
    };
    let groups = (0..GROUPS).map(|group| Drawn::<LANES> {
        key: SEED,
        paths: std::array::from_fn(|lane| group * LANES as u32 + lane as u32),
    });
    let totals = groups.flat_map(|drawn| {
        let mut traffic = chances.traffic(&drawn);
        let mut totals = [0.0; LANES];
        for day in (0..).take(days) {
            let (by_day, by_night) = traffic.of_block(day, 0, (rate, 0.0));
            let today = by_day + by_night;
            for (total, today) in totals.iter_mut().zip(today.0) {
                *total += today;
            }
        }
        totals
    });
    totals.collect()
}
