//! What is drawn of a discharge: a line, or the band that its pulses fill.

use crate::plot::picture::Point;

/// A discharge as it is drawn.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum Trace {
    /// The voltage itself.
    Line(Vec<Point>),
    /// Between the highest and the lowest voltage of pulses that lie too close to be told apart.
    Band {
        highest: Vec<Point>,
        lowest: Vec<Point>,
    },
}

/// Pulses closer than this, units from one to the next, run together as strokes of dashes.
const CLOSE: i32 = 60;

/// A voltage that rises by no more than this, units, is no new pulse.
const STILL: i32 = 2;

impl Trace {
    /// Of a curve's points in their order, left to right.
    pub(super) fn of(points: &[Point]) -> Self {
        let width = match (points.first(), points.last()) {
            (Some(first), Some(last)) => last.0 - first.0,
            _ => 0,
        };
        let pulses = pulses(points);
        // Of fewer than three pulses a band says less than they do.
        if pulses < 3 || width >= CLOSE.saturating_mul(pulses) {
            return Self::Line(in_columns(points, 1, &[first, topmost, undermost, last]));
        }
        // So wide that some pulse falls into every one.
        let column = (2 * width / pulses).max(1);
        let mut highest = in_columns(points, column, &[topmost]);
        let mut lowest = in_columns(points, column, &[undermost]);
        // Both edges go from the start to the end: the first pulse sinks after the one, and the last
        // one begins before the other.
        if let (Some(start), Some(end)) = (points.first(), points.last()) {
            for edge in [&mut highest, &mut lowest] {
                edge.splice(0..0, edge.first().map(|&(_, y)| (start.0, y)));
                edge.extend(edge.last().map(|&(_, y)| (end.0, y)));
            }
        }
        Self::Band { highest, lowest }
    }

    /// Where it ends.
    pub(super) fn end(&self) -> Option<Point> {
        match self {
            Self::Line(points) => points.last().copied(),
            Self::Band { lowest, .. } => lowest.last().copied(),
        }
    }

    /// How much a band covers; a line covers nothing.
    pub(super) fn area(&self) -> i64 {
        let Self::Band { highest, lowest } = self else {
            return 0;
        };
        let pairs = highest.iter().zip(lowest);
        pairs.map(|(high, low)| i64::from(low.1 - high.1)).sum()
    }
}

/// How often the voltage rises again.
fn pulses(points: &[Point]) -> i32 {
    let mut pulses = 0;
    let mut falling = true;
    let mut turned_at = points.first().map_or(0, |first| first.1);
    for &(_, y) in points {
        // Down is where y grows.
        let beyond = if falling {
            y - turned_at
        } else {
            turned_at - y
        };
        if beyond >= 0 {
            turned_at = y;
        } else if beyond < -STILL {
            pulses += i32::from(falling);
            falling = !falling;
            turned_at = y;
        }
    }
    pulses
}

type Choice = fn(&[Point]) -> usize;

fn first(_: &[Point]) -> usize {
    0
}

fn last(column: &[Point]) -> usize {
    column.len().saturating_sub(1)
}

fn topmost(column: &[Point]) -> usize {
    let places = 0..column.len();
    places.min_by_key(|place| column[*place].1).unwrap_or(0)
}

fn undermost(column: &[Point]) -> usize {
    let places = 0..column.len();
    places.max_by_key(|place| column[*place].1).unwrap_or(0)
}

/// The chosen points of each column of a width, in their order and each once. What is left over at
/// the end belongs to the last column.
fn in_columns(points: &[Point], width: i32, choices: &[Choice]) -> Vec<Point> {
    let start = points.first().map_or(0, |first| first.0);
    let across = points.last().map_or(0, |last| last.0 - start);
    let columns = (across / width).max(1);
    let number = |point: &Point| ((point.0 - start) / width).min(columns - 1);
    let mut chosen: Vec<Point> = Vec::new();
    for column in points.chunk_by(|a, b| number(a) == number(b)) {
        let mut places: Vec<usize> = choices.iter().map(|choice| choice(column)).collect();
        places.sort_unstable();
        places.dedup();
        chosen.extend(places.into_iter().map(|place| column[place]));
    }
    chosen
}

#[cfg(test)]
mod tests {
    use super::*;

    /// So many pulses of a fall by 100 units each, over 1000 units, from where the one before began.
    fn saw(pulses: i32) -> Vec<Point> {
        let pulse = |pulse: i32| {
            let x = 1000 * pulse / pulses;
            [
                (x, 200),
                (x + 1000 / pulses / 2, 250),
                (1000 * (pulse + 1) / pulses, 300),
            ]
        };
        (0..pulses).flat_map(pulse).collect()
    }

    #[test]
    fn a_steady_load_is_a_line() {
        let slope: Vec<Point> = (0..1000).map(|x| (x, 100 + x / 2)).collect();
        assert_eq!(Trace::of(&slope), Trace::Line(slope));
    }

    #[test]
    fn few_pulses_are_drawn_and_many_are_a_band() {
        let Trace::Line(line) = Trace::of(&saw(5)) else {
            panic!("five pulses have room");
        };
        assert_eq!(line, saw(5));
        let Trace::Band { highest, lowest } = Trace::of(&saw(152)) else {
            panic!("152 pulses have none");
        };
        assert!(highest.iter().all(|point| point.1 == 200), "{highest:?}");
        assert!(lowest.iter().all(|point| point.1 == 300), "{lowest:?}");
        let reach = |edge: &[Point]| (edge[0].0, edge[edge.len() - 1].0);
        assert_eq!([reach(&highest), reach(&lowest)], [(0, 1000); 2]);
    }

    #[test]
    fn a_curve_of_one_point_or_none_is_a_line() {
        assert_eq!(Trace::of(&[]), Trace::Line(Vec::new()));
        assert_eq!(Trace::of(&[(7, 7)]), Trace::Line(vec![(7, 7)]));
    }
}
