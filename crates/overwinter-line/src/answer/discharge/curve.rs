//! The voltage under load over the charge delivered, in few points.

use overwinter_model::{Charge, Voltage};

/// So many parts of a cell's capacity: more than a picture has columns, also where a heavy load or
/// the cold leave only a tenth of it in reach.
const PARTS: f64 = 16_000.0;

/// Collects a curve. Of each small part of the capacity it keeps the first, the highest, the lowest and
/// the last voltage: what happens within a part would lie in one column of a picture.
pub(super) struct Collector {
    part: Charge,
    kept: Vec<(Charge, Voltage)>,
    /// The points since the part began.
    here: Vec<(Charge, Voltage)>,
}

impl Collector {
    /// For a cell of this capacity.
    pub(super) fn new(capacity: Charge) -> Self {
        Self {
            part: capacity / PARTS,
            kept: Vec::new(),
            here: Vec::new(),
        }
    }

    /// Takes the next point.
    pub(super) fn add(&mut self, delivered: Charge, voltage: Voltage) {
        let began = self.here.first().map(|(delivered, _)| *delivered);
        if began.is_some_and(|began| delivered - began >= self.part) {
            self.close();
        }
        self.here.push((delivered, voltage));
    }

    /// The curve in the order in which its points came.
    pub(super) fn finish(mut self) -> Vec<(Charge, Voltage)> {
        self.close();
        self.kept
    }

    fn close(&mut self) {
        let volts = |place: &usize| self.here[*place].1.as_volts();
        let places = || 0..self.here.len();
        let highest = places().max_by(|a, b| volts(a).total_cmp(&volts(b)));
        let lowest = places().min_by(|a, b| volts(a).total_cmp(&volts(b)));
        let ends = [Some(0), places().next_back()];
        let mut chosen: Vec<usize> = ends
            .into_iter()
            .chain([highest, lowest])
            .flatten()
            .collect();
        chosen.sort_unstable();
        chosen.dedup();
        let chosen = chosen.into_iter().filter_map(|place| self.here.get(place));
        self.kept.extend(chosen);
        self.here.clear();
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    proptest! {
        #[test]
        fn ends_heights_and_depths_stay(
            points in prop::collection::vec((0.0..3.0_f64, 0.0..2.0_f64), 1..200),
        ) {
            let mut collector = Collector::new(Charge::from_coulombs(PARTS));
            let mut delivered = Charge::ZERO;
            let mut all = Vec::new();
            for (more, volts) in points {
                // Many points to a part: each goes on by a few hundredths of it.
                delivered += Charge::from_coulombs(0.02 * more);
                all.push((delivered, Voltage::from_volts(volts)));
                collector.add(delivered, Voltage::from_volts(volts));
            }
            let kept = collector.finish();
            prop_assert_eq!((kept.first(), kept.last()), (all.first(), all.last()));
            prop_assert!(kept.windows(2).all(|pair| pair[0].0 <= pair[1].0));
            let extremes = |points: &[(Charge, Voltage)]| {
                let volts = || points.iter().map(|point| point.1.as_volts());
                (volts().fold(f64::INFINITY, f64::min), volts().fold(0.0, f64::max))
            };
            prop_assert_eq!(extremes(&kept), extremes(&all));
            // Four a part, and there are at most twelve parts and one begun.
            prop_assert!(kept.len() <= 4 * 13);
        }
    }
}
