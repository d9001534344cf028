//! A camera with something about it changed, as another line file could have it.

use overwinter_model::{Activity, Counts};

use super::draws::draw;
use super::{Camera, Settings};

impl Camera {
    /// The camera with other settings. They must be such as its line file could hold: within
    /// their ranges, and nothing sent without a modem.
    #[must_use]
    pub fn with_settings(&self, settings: Settings) -> Self {
        Self {
            draw: draw(&self.assumed.values(), &settings, &self.supply),
            settings,
            ..self.clone()
        }
    }

    /// The camera where as many animals pass, and `factor` times as many false triggers, 0 or more.
    #[must_use]
    pub fn with_false_triggers_times(&self, factor: f64) -> Self {
        let counts = *self.activity.counts();
        let false_ones = counts.false_share * factor;
        let all = 1.0 - counts.false_share + false_ones;
        let false_share = if all > 0.0 { false_ones / all } else { 0.0 };
        self.with_rates(
            all,
            Counts {
                false_share,
                ..counts
            },
        )
    }

    /// Triggers `factor` times as often, with other counts.
    fn with_rates(&self, factor: f64, counts: Counts) -> Self {
        let rates = self.activity.triggers_per_day().map(|rate| rate * factor);
        // What was accepted stays so when it is multiplied.
        let activity = Activity::new(rates, *self.activity.pattern());
        let activity = activity.and_then(|activity| activity.with_counts(counts));
        Self {
            activity: activity.unwrap_or_else(|_| self.activity.clone()),
            ..self.clone()
        }
    }
}
