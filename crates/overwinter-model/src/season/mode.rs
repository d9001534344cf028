//! What a camera is doing as its supply falls and recovers: running, restarting, waiting, off.

use crate::number::Number;
use crate::units::{Time, Voltage};

/// What a camera is doing: it runs where none of the first three says otherwise.
///
/// A rule over [`Number`], as the rules of its cells are: numbers of 0 and 1 in place of names, so
/// that seasons side by side may each do something else. Draw, counts and notes of a span are
/// multiplied by [`Mode::share_on`]; the cells of a camera that is down go on living.
///
/// ```
/// use overwinter_model::season::{Found, Mode, Recovery};
/// use overwinter_model::{Time, Voltage};
///
/// let recovery = Recovery {
///     from: Voltage::from_volts(9.6),
///     takes: Time::from_hours(0.25),
///     latches: 0.0,
/// };
/// let hour = Time::from_hours(1.0);
/// let found = |fell, volts| Found { fell, at_rest: Voltage::from_volts(volts) };
///
/// // A night picture resets it, and at rest its cells are too low to start again.
/// let mode = Mode::running().after(&found(true, 9.4), &recovery, hour);
/// assert_eq!((mode.waiting, mode.falls, mode.share_on(hour)), (1.0, 1.0, 0.0));
///
/// // The morning warms the cells. A quarter of the next hour goes for the start.
/// let mode = mode.after(&found(false, 9.9), &recovery, hour);
/// assert_eq!((mode.waiting, mode.share_on(hour)), (0.0, 0.75));
/// assert_eq!(mode.after(&found(false, 9.9), &recovery, hour).share_on(hour), 1.0);
/// ```
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Mode<N = f64> {
    /// Time until it has started; none unless it is restarting.
    pub restarting: Time<N>,
    /// 1 while it waits for its supply to recover, else 0.
    pub waiting: N,
    /// 1 once it is off until somebody comes, else 0.
    pub off: N,
    /// How often it fell.
    pub falls: N,
}

/// What a camera found of its supply in a span.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Found<N: Number = f64> {
    /// Whether a load reset its electronics, or its firmware read too low a voltage and stopped:
    /// of a camera that runs.
    pub fell: N::Mask,
    /// The supply at rest, at the end of the span.
    pub at_rest: Voltage<N>,
}

/// How a camera comes back after a fall.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Recovery<N = f64> {
    /// Voltage at rest from which it starts again.
    pub from: Voltage<N>,
    /// How long a start takes, with its sensor warming up.
    pub takes: Time,
    /// 1 if it stays off after a fall until somebody comes, else 0.
    pub latches: N,
}

impl<N: Number> Mode<N> {
    /// A camera that was just switched on and has started.
    #[must_use]
    pub fn running() -> Self {
        let none = N::from(0.0);
        Self {
            restarting: Time::from_si(none),
            waiting: none,
            off: none,
            falls: none,
        }
    }

    /// Share of the coming `span` in which it runs, 0 to 1.
    #[inline(always)]
    #[must_use]
    pub fn share_on(&self, span: Time) -> N {
        let (none, all) = (N::from(0.0), N::from(1.0));
        let down = self.waiting.max(self.off);
        let started = (all - self.restarting.si().per(span.as_seconds())).max(none);
        N::choose(down.at_least(all), none, started)
    }

    /// What it is doing after a `span` in which it `found` that of its supply.
    ///
    /// A fall takes effect with the end of the span; a camera that was down all the span cannot
    /// fall. One that is waiting starts at the end of the first span that leaves it enough.
    #[inline(always)]
    #[must_use]
    pub fn after(&self, found: &Found<N>, recovery: &Recovery<N>, span: Time) -> Self {
        let (none, one) = (N::from(0.0), N::from(1.0));
        let is = |flag: N| flag.at_least(one);
        let fell = found.fell & none.below(self.share_on(span));
        let off = is(self.off) | (fell & is(recovery.latches));
        let stands = !off & (is(self.waiting) | fell);
        let enough = found.at_rest.at_least(recovery.from);
        let waits = stands & !enough;
        let starts = stands & enough;
        let nothing = Time::from_si(none);
        let left = (self.restarting - span.everywhere()).max(nothing);
        let left = Time::choose(waits | off, nothing, left);
        Self {
            restarting: Time::choose(starts, recovery.takes.everywhere(), left),
            waiting: N::choose(waits, one, none),
            off: N::choose(off, one, none),
            falls: self.falls + N::choose(fell, one, none),
        }
    }
}
