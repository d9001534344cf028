//! Random numbers for many paths at once, each a pure function of what it is for.
//!
//! A number is drawn by saying which path, day, purpose and stream it belongs to ([`bits`]); there
//! is no generator state to pass around, to split among threads or to keep in order. Everything
//! works lane by lane on arrays `[f64; L]`, one path a lane, and a lane never sees its neighbours:
//! a path has the same numbers whatever the width, the order or the machine.
//!
//! ```
//! use overwinter_model::random::{Draw, Key, bits, normal, poisson, uniform};
//!
//! let draw = Draw { day: 12, purpose: 0, stream: 3 };
//! let [first, second, ..] = bits(Key(7), [0, 1, 2, 3], draw);
//! let weather: [f64; 4] = normal(uniform(first));
//! let pictures: [f64; 4] = poisson([4.0; 4], uniform(second));
//! # assert!(weather.iter().chain(&pictures).all(|drawn| drawn.is_finite()));
//! ```
//!
//! The lane functions are `#[inline(always)]`: a caller is compiled for several instruction sets,
//! and a function that stays outside it would be compiled for the plainest of them only. They are
//! free of branches that depend on one lane, and of calls: both keep a compiler from putting lanes
//! into one register. Products and sums stay apart (no fused multiply-add), so that the bits are
//! the same everywhere. [`libm`] has no part in them: its logarithm is a call, and its square root,
//! on x86, assembly for one number.

mod anomalies;
mod elementary;
mod gamma;
mod incomplete_gamma;
mod lanes;
mod normal;
mod philox;
mod poisson;
#[cfg(test)]
mod statistics;

pub use anomalies::{Anomalies, AnomalyLaw, AnomalyLawError};
pub use elementary::{exp, ln, sqrt};
pub use gamma::{GammaQuantile, GammaShapeError};
pub use normal::normal;
pub use philox::{Draw, Key, bits, uniform};
pub use poisson::poisson;
