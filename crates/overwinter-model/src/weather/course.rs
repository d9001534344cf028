//! A quantity's course through the year that keeps every month's mean.

/// What a month's slope counts: one over its length in days, February's averaged over leap years.
const WEIGHTS: [f64; 12] = [
    1.0 / 31.0,
    1.0 / 28.25,
    1.0 / 31.0,
    1.0 / 30.0,
    1.0 / 31.0,
    1.0 / 30.0,
    1.0 / 31.0,
    1.0 / 31.0,
    1.0 / 30.0,
    1.0 / 31.0,
    1.0 / 30.0,
    1.0 / 31.0,
];

/// Passes over the year's twelve equations; each shrinks the error four times, 4^-30 = 1e-18.
const PASSES: usize = 30;

/// A smooth yearly course through twelve monthly means.
///
/// Within each month a parabola, joined at the months' ends with equal value and slope: the cyclic
/// *histospline* (Boneva, Kendall & Stefanov 1971, J. R. Stat. Soc. B 33(1)). With the month's mean
/// `m`, its start `a`, its end `b` and the part `u` of the month that is past,
///
/// ```text
/// T(u) = a (1 - u) + b u + 6 (m - (a + b)/2) u (1 - u)
/// ```
///
/// whose mean over the month is `m` whatever `a` and `b` are, because u (1 - u) has the mean 1/6.
/// Equal slopes on both sides of each month's start give twelve linear equations for the starts.
/// Where neighbouring months jump, the course swings beyond both means, as the real one does.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct YearCourse {
    /// The means themselves are with who asks.
    starts: [f64; 12],
}

impl YearCourse {
    /// Zero all year.
    pub(super) const LEVEL: Self = Self { starts: [0.0; 12] };

    /// The course through these monthly means, January first.
    pub(super) fn through(means: &[f64; 12]) -> Self {
        let mut starts = *means;
        for _ in 0..PASSES {
            let mut before = 11;
            for month in 0..12 {
                let weight_before = of(&WEIGHTS, before);
                let weight = of(&WEIGHTS, month);
                let pull = 6.0 * (of(means, before) * weight_before + of(means, month) * weight)
                    - 2.0 * of(&starts, before) * weight_before
                    - 2.0 * of(&starts, after(month)) * weight;
                if let Some(start) = starts.get_mut(month) {
                    *start = pull / (4.0 * (weight_before + weight));
                }
                before = month;
            }
        }
        Self { starts }
    }

    /// The value when the part `past` (0 to 1) of a month (0 to 11) of this mean is over.
    pub(super) fn at(&self, mean: f64, month_index: usize, past: f64) -> f64 {
        let start = of(&self.starts, month_index);
        let end = of(&self.starts, after(month_index));
        let bulge = 6.0 * (mean - 0.5 * (start + end));
        start + (end - start) * past + bulge * past * (1.0 - past)
    }
}

/// The next month.
fn after(month_index: usize) -> usize {
    if month_index == 11 {
        0
    } else {
        month_index + 1
    }
}

/// The month's entry; the index is below 12 wherever it comes from, so the zero is never seen.
fn of(values: &[f64; 12], month_index: usize) -> f64 {
    values.get(month_index).copied().unwrap_or(0.0)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    proptest! {
        #[test]
        fn every_month_keeps_its_mean_and_joins_the_next(
            means in prop::array::uniform12(-50.0..40.0_f64)
        ) {
            let course = YearCourse::through(&means);
            for month in 0..12 {
                let n = 720;
                let sum: f64 = (0..n)
                    .map(|i| course.at(means[month], month, (f64::from(i) + 0.5) / f64::from(n)))
                    .sum();
                prop_assert!((sum / f64::from(n) - means[month]).abs() < 1e-3);
                let next = (month + 1) % 12;
                prop_assert!((course.at(means[month], month, 1.0) - course.at(means[next], next, 0.0)).abs() < 1e-9);
                let step = 1e-4;
                let slope = (course.at(means[month], month, 1.0) - course.at(means[month], month, 1.0 - step))
                    / step * WEIGHTS[month];
                let slope_next =
                    (course.at(means[next], next, step) - course.at(means[next], next, 0.0)) / step * WEIGHTS[next];
                prop_assert!((slope - slope_next).abs() < 0.01, "{slope} {slope_next}");
            }
        }
    }
}
