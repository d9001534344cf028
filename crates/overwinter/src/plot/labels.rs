//! Labels that would lie over each other, moved apart.

/// A label's place along one direction.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Span {
    /// Where it begins.
    pub(super) start: i32,
    /// How long it is.
    pub(super) length: i32,
}

impl Span {
    /// Moved as little as it takes to lie between two edges.
    pub(super) fn between(self, lowest: i32, highest: i32) -> Self {
        let start = self.start.min(highest - self.length).max(lowest);
        Self { start, ..self }
    }

    fn meets(self, other: Self, gap: i32) -> bool {
        self.start < other.start + other.length + gap
            && other.start < self.start + self.length + gap
    }
}

/// For each label the row that it goes to, the lowest row being 0, so that none in a row meet.
///
/// The label furthest to the right goes lowest: a line down from the start of one further up
/// then passes to the left of those below it.
pub(super) fn rows(labels: &[Span], gap: i32) -> Vec<usize> {
    let mut order: Vec<usize> = (0..labels.len()).collect();
    order.sort_by_key(|&index| std::cmp::Reverse(labels[index].start));
    let mut taken: Vec<Vec<Span>> = Vec::new();
    let mut row_of = vec![0; labels.len()];
    for index in order {
        let label = labels[index];
        let free = taken
            .iter()
            .position(|row| row.iter().all(|other| !label.meets(*other, gap)));
        let row = free.unwrap_or(taken.len());
        if row == taken.len() {
            taken.push(Vec::new());
        }
        taken[row].push(label);
        row_of[index] = row;
    }
    row_of
}

/// Places near those wanted, at least `gap` from each other and within `lowest..=highest` as far
/// as there is room, in the order given.
pub(super) fn apart(wanted: &[i32], gap: i32, lowest: i32, highest: i32) -> Vec<i32> {
    let mut order: Vec<usize> = (0..wanted.len()).collect();
    order.sort_by_key(|&index| wanted[index]);
    let mut places = vec![0; wanted.len()];
    let mut next = lowest;
    for &index in &order {
        places[index] = wanted[index].max(next);
        next = places[index] + gap;
    }
    let mut last = highest;
    for &index in order.iter().rev() {
        places[index] = places[index].min(last);
        last = places[index] - gap;
    }
    places
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    proptest! {
        #[test]
        fn labels_in_a_row_do_not_meet(
            labels in prop::collection::vec((0..1500_i32, 50..500_i32), 0..6), gap in 0..40_i32,
        ) {
            let labels: Vec<Span> =
                labels.into_iter().map(|(start, length)| Span { start, length }).collect();
            let rows = rows(&labels, gap);
            for (a, row_a) in labels.iter().zip(&rows) {
                for (b, row_b) in labels.iter().zip(&rows) {
                    let clear = a.start + a.length + gap <= b.start || b.start + b.length + gap <= a.start;
                    prop_assert!(std::ptr::eq(a, b) || row_a != row_b || clear);
                }
            }
        }

        #[test]
        fn places_are_apart_and_within(wanted in prop::collection::vec(0..1000_i32, 0..9)) {
            let mut places = apart(&wanted, 40, 100, 900);
            places.sort_unstable();
            prop_assert!(places.iter().all(|place| (100..=900).contains(place)));
            prop_assert!(places.windows(2).all(|pair| pair[1] - pair[0] >= 40));
        }
    }
}
