//! An activity on its way in or out, checked on the way.

use serde::{Deserialize, Serialize};

use super::{ActivityError, Counts, Pattern};

/// An [`super::Activity`], not yet checked.
#[derive(Serialize, Deserialize)]
pub(super) struct Activity {
    #[serde(with = "crate::decimal::several")]
    triggers_per_day: [f64; 12],
    pattern: Pattern,
    counts: Counts,
}

impl TryFrom<Activity> for super::Activity {
    type Error = ActivityError;
    fn try_from(stored: Activity) -> Result<Self, ActivityError> {
        Self::new(stored.triggers_per_day, stored.pattern)?.with_counts(stored.counts)
    }
}

impl From<super::Activity> for Activity {
    fn from(activity: super::Activity) -> Self {
        Self {
            triggers_per_day: *activity.triggers_per_day(),
            pattern: *activity.pattern(),
            counts: *activity.counts(),
        }
    }
}
