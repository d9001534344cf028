//! The hours of a season, one after the other.

use super::Installation;
use crate::season::Hour;

/// The hours of an installation's season: see [`Installation::hours`]. Holds one day of them.
#[derive(Clone, Debug)]
pub struct Hours<'a> {
    installation: &'a Installation,
    /// Days of the season that have been made.
    made: u16,
    today: [Hour; 24],
    /// Hours of today that have been given.
    given: usize,
}

impl<'a> Hours<'a> {
    /// Not part of its caller, on whose stack the hours would stand twice.
    #[inline(never)]
    pub(super) fn new(installation: &'a Installation) -> Self {
        Self {
            installation,
            made: 0,
            today: [Hour::NOTHING; 24],
            given: 24,
        }
    }
}

impl Iterator for Hours<'_> {
    type Item = Hour;

    fn next(&mut self) -> Option<Hour> {
        if self.given >= self.today.len() {
            if self.made >= self.installation.days {
                return None;
            }
            let day = self.installation.first_day.plus(self.made.into());
            self.installation.fill_day(&mut self.today, day);
            self.made += 1;
            self.given = 0;
        }
        let hour = self.today.get(self.given).copied();
        self.given += 1;
        hour
    }
}
