//! Small arithmetic that a device has once, as calls: where double precision is made in software, an
//! inlined comparison of two numbers takes five times the room of a call.

/// The larger of two; NaN loses against a number.
#[cfg_attr(target_os = "none", inline(never))]
pub(crate) fn max(x: f64, y: f64) -> f64 {
    libm::fmax(x, y)
}

/// The smaller of two; NaN loses against a number.
#[cfg_attr(target_os = "none", inline(never))]
pub(crate) fn min(x: f64, y: f64) -> f64 {
    libm::fmin(x, y)
}

/// What is in a range as it is, what is outside as its nearest end; NaN stays.
#[cfg_attr(target_os = "none", inline(never))]
pub(crate) fn clamp(x: f64, low: f64, high: f64) -> f64 {
    // Not `core`'s, which would panic about ends in the wrong order.
    let raised = if x < low { low } else { x };
    if raised > high { high } else { raised }
}

/// A share: between 0 and 1; NaN stays.
#[cfg_attr(target_os = "none", inline(never))]
pub(crate) fn share(x: f64) -> f64 {
    clamp(x, 0.0, 1.0)
}

/// ```text
/// c₀ + x (c₁ + x (c₂ + …))
/// ```
#[cfg_attr(target_os = "none", inline(never))]
pub(crate) fn polynomial(x: f64, coefficients: &[f64]) -> f64 {
    let rising = coefficients.iter().copied();
    rising.rev().reduce(|sum, c| c + x * sum).unwrap_or(0.0)
}

/// Nothing below zero, nor NaN.
#[cfg_attr(target_os = "none", inline(never))]
pub(crate) fn positive(x: f64) -> f64 {
    max(x, 0.0)
}
