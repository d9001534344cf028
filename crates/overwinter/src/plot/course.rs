//! Lines through points: simplified, and cut into dashes.

use super::picture::Point;

/// How far rounding may move a point to the side of a gentle slope: scales round down to whole
/// units.
const ROUNDING: f64 = 1.0;

/// The points that a line needs: those left out lie nearer to it than rounding to whole units
/// may have moved them. Kept, they make a gentle slope a staircase.
///
/// Source: Douglas and Peucker, "Algorithms for the reduction of the number of points required
/// to represent a digitized line or its caricature", 1973; from memory.
pub(super) fn without_steps(points: &[Point]) -> Vec<Point> {
    let Some(&first) = points.first() else {
        return Vec::new();
    };
    let mut kept = vec![first];
    // Pieces still to look at, the next one on top; each starts where the one before ended.
    let mut pieces = vec![(0, points.len() - 1)];
    while let Some((start, end)) = pieces.pop() {
        let furthest = (start + 1..end)
            .map(|between| {
                let away = distance(points[between], points[start], points[end]);
                (away, between)
            })
            .max_by(|a, b| a.0.total_cmp(&b.0));
        match furthest {
            Some((away, between)) if away > ROUNDING => {
                pieces.push((between, end));
                pieces.push((start, between));
            }
            _ if end > start => kept.push(points[end]),
            _ => {}
        }
    }
    kept
}

/// From a point to the nearest point of the straight line between two others and no further: a stroke
/// that turns back on itself ends beyond them.
fn distance(point: Point, from: Point, to: Point) -> f64 {
    let [px, py, fx, fy, tx, ty] = [point.0, point.1, from.0, from.1, to.0, to.1].map(f64::from);
    let (along, across) = (tx - fx, ty - fy);
    let length = along.hypot(across);
    if length == 0.0 {
        return (px - fx).hypot(py - fy);
    }
    let gone = ((px - fx) * along + (py - fy) * across) / length;
    if gone < 0.0 {
        return (px - fx).hypot(py - fy);
    }
    if gone > length {
        return (px - tx).hypot(py - ty);
    }
    (along * (py - fy) - across * (px - fx)).abs() / length
}

/// The line cut wherever it turns by more than a right angle: each piece begins where the one before
/// ended.
pub(super) fn without_turns(points: &[Point]) -> Vec<Vec<Point>> {
    let mut pieces: Vec<Vec<Point>> = Vec::new();
    let mut piece: Vec<Point> = Vec::new();
    for &point in points {
        if let [.., before, here] = piece[..] {
            let step = |(fx, fy): Point, (tx, ty): Point| (i64::from(tx - fx), i64::from(ty - fy));
            let ((ax, ay), (bx, by)) = (step(before, here), step(here, point));
            if ax * bx + ay * by < 0 {
                pieces.push(std::mem::replace(&mut piece, vec![here]));
            }
        }
        // A point twice has no direction.
        if piece.last() != Some(&point) {
            piece.push(point);
        }
    }
    pieces.push(piece);
    pieces
}

/// The line cut into dashes with gaps between them, both in units along it and above zero.
pub(super) fn dashes(points: &[Point], dash: i32, gap: i32) -> Vec<Vec<Point>> {
    let lengths = [f64::from(dash), f64::from(gap)];
    let mut dashes = Vec::new();
    let mut current: Vec<Point> = points.first().copied().into_iter().collect();
    let mut drawing = true;
    let mut left = lengths[0];
    for pair in points.windows(2) {
        let [(fx, fy), (tx, ty)] = [pair[0], pair[1]].map(|(x, y)| (f64::from(x), f64::from(y)));
        let length = (tx - fx).hypot(ty - fy);
        let mut gone = 0.0;
        while length - gone > left {
            gone += left;
            let share = gone / length;
            // Between two points of the picture, so it fits.
            let at = |from: f64, to: f64| (from + share * (to - from)).round() as i32;
            current.push((at(fx, tx), at(fy, ty)));
            if drawing {
                dashes.push(std::mem::take(&mut current));
            } else {
                current = current.split_off(current.len() - 1);
            }
            drawing = !drawing;
            left = lengths[usize::from(!drawing)];
        }
        left -= length - gone;
        if drawing {
            current.push(pair[1]);
        }
    }
    if drawing {
        dashes.push(current);
    }
    dashes
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    #[test]
    fn a_dip_straight_down_stays() {
        // There and back at one place: both ends lie on one line through the other points.
        let dip = [(0, 10), (50, 10), (50, 90), (50, 10), (100, 10)];
        assert_eq!(without_steps(&dip), dip);
    }

    proptest! {
        #[test]
        fn dashes_cover_their_share_of_a_line(length in 1..2000_i32, bend in 0..2000_i32) {
            // Along the axes rounding moves nothing, so lengths are whole.
            let points = [(0, 0), (bend.min(length), 0), (bend.min(length), length - bend.min(length))];
            let dashes = dashes(&points, 14, 8);
            let long = |dash: &Vec<Point>| {
                dash.windows(2).map(|p| (p[1].0 - p[0].0).abs() + (p[1].1 - p[0].1).abs()).sum::<i32>()
            };
            let (whole, rest) = (length / 22, length % 22);
            prop_assert_eq!(dashes.iter().map(long).sum::<i32>(), 14 * whole + rest.min(14));
            prop_assert!(dashes.iter().all(|dash| dash.len() > 1 && long(dash) <= 14));
        }

        #[test]
        fn a_line_without_steps_keeps_its_ends_and_its_course(
            heights in prop::collection::vec(0..300_i32, 1..60),
        ) {
            let points: Vec<Point> = (0..).step_by(7).zip(heights).collect();
            let kept = without_steps(&points);
            prop_assert_eq!((kept.first(), kept.last()), (points.first(), points.last()));
            for pair in kept.windows(2) {
                let [(x0, y0), (x1, y1)] = [pair[0], pair[1]].map(|(x, y)| (f64::from(x), f64::from(y)));
                for &(x, y) in points.iter().filter(|p| (pair[0].0..=pair[1].0).contains(&p.0)) {
                    let across = (x1 - x0) * (f64::from(y) - y0) - (y1 - y0) * (f64::from(x) - x0);
                    prop_assert!(across.abs() / (x1 - x0).hypot(y1 - y0) <= ROUNDING + 1e-9);
                }
            }
        }

        #[test]
        fn every_point_of_strokes_up_and_down_stays_on_the_line(
            points in prop::collection::vec((0..40_i32, 0..300_i32), 2..60),
        ) {
            // Several heights in one column, as where a voltage falls and rises at one charge.
            let mut points = points;
            points.sort_by_key(|point| point.0);
            let kept = without_steps(&points);
            for point in points {
                let away = kept.windows(2).map(|pair| distance(point, pair[0], pair[1]));
                prop_assert!(away.fold(f64::INFINITY, f64::min) <= ROUNDING + 1e-9, "{point:?}");
            }
        }

        #[test]
        fn pieces_make_the_line_and_none_turns_back(
            points in prop::collection::vec((0..50_i32, 0..50_i32), 2..40),
        ) {
            let pieces = without_turns(&points);
            let mut joined: Vec<Point> = Vec::new();
            for piece in &pieces {
                prop_assert!(joined.last().is_none_or(|last| Some(last) == piece.first()));
                joined.extend(piece.iter().skip(usize::from(!joined.is_empty())));
                for three in piece.windows(3) {
                    let step = |from: Point, to: Point| (to.0 - from.0, to.1 - from.1);
                    let (a, b) = (step(three[0], three[1]), step(three[1], three[2]));
                    prop_assert!(a.0 * b.0 + a.1 * b.1 >= 0);
                }
            }
            let mut once = points;
            once.dedup();
            prop_assert_eq!(joined, once);
        }
    }
}
