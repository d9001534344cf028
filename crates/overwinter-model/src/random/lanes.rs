//! One function of numbers applied to every lane.

/// `f` of every lane.
// Inlined so that it is compiled for the instruction set of its caller.
#[inline(always)]
pub(super) fn map<const L: usize>(mut lanes: [f64; L], f: impl Fn(f64) -> f64) -> [f64; L] {
    for lane in &mut lanes {
        *lane = f(*lane);
    }
    lanes
}

/// `f` of every pair of lanes.
// Inlined so that it is compiled for the instruction set of its caller.
#[inline(always)]
pub(super) fn zip<const L: usize>(
    mut left: [f64; L],
    right: [f64; L],
    f: impl Fn(f64, f64) -> f64,
) -> [f64; L] {
    for (left, right) in left.iter_mut().zip(&right) {
        *left = f(*left, *right);
    }
    left
}
