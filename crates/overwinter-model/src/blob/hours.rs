//! The hours of a season, one after the other.

use super::Installation;
use crate::season::Hour;

/// The hours of an installation's season: see [`Installation::hours`]. Holds one day of them.
#[derive(Clone, Debug)]
pub struct Hours<'a> {
    installation: &'a Installation,
    /// Next hour of the season, and the one before which to stop.
    next: u32,
    stop: u32,
    /// The hours of the day of the last one given.
    today: [Hour; 24],
    /// Whether they have been made.
    made: bool,
}

impl<'a> Hours<'a> {
    /// Not part of its caller, on whose stack the hours would stand twice.
    #[inline(never)]
    pub(super) fn new(installation: &'a Installation, from: u32, to: u32) -> Self {
        Self {
            installation,
            next: from,
            stop: to,
            today: Hour::day_of_nothing(),
            made: false,
        }
    }

    /// Whether none is left.
    pub(crate) const fn is_over(&self) -> bool {
        self.next >= self.stop
    }
}

impl Iterator for Hours<'_> {
    type Item = Hour;

    fn next(&mut self) -> Option<Hour> {
        if self.is_over() {
            return None;
        }
        let of_day = self.next % 24;
        if of_day == 0 || !self.made {
            let days = i32::try_from(self.next / 24).unwrap_or(i32::MAX);
            let day = self.installation.first_day.plus(days);
            self.installation.fill_day(&mut self.today, day);
            self.made = true;
        }
        self.next += 1;
        self.today.get(of_day as usize).copied()
    }
}
