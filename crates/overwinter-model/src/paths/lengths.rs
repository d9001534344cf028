//! How long the blocks of sampled seasons are: as long as a camera's end allows.

use super::{Block, Expected, Followed, Luck, Prepared, follow};
use crate::arithmetic::min;
use crate::lanes::Lanes;
use crate::season::Ending;

/// A block's length is decided by the expected path of so many days, whenever the season ends: the
/// same path must not come by other blocks, and so to another end, because its season is longer.
pub const FORESEEN_DAYS: usize = 40;

/// Hours in each of the blocks that it is decided by, and in the longest: half a day.
pub const FORESEEN_BLOCK_H: usize = 12;

/// A panel charges by day and its camera draws by night: longer blocks would even both out.
const LONGEST_LIT_H: usize = 3;

impl Prepared<'_> {
    /// Hours for each block of this camera's seasons: short enough that its end is right to about half a
    /// percent (tests hold it against the hourly driver). `foreseen` are blocks of
    /// [`FORESEEN_BLOCK_H`] over the first [`FORESEEN_DAYS`].
    #[must_use]
    pub fn hours_per_block(&self, foreseen: &[Block]) -> usize {
        let by_life = match self.expected_life(foreseen) {
            life if life > FORESEEN_DAYS as f64 => FORESEEN_BLOCK_H,
            life if life > 15.0 => 6,
            life if life > 6.0 => 3,
            _ => 1,
        };
        if foreseen.iter().any(|block| block.light.is_some()) {
            by_life.min(LONGEST_LIT_H)
        } else {
            by_life
        }
    }

    /// Days until night pictures or the camera end on the expected path; infinite if neither does.
    fn expected_life(&self, blocks: &[Block]) -> f64 {
        let followed: Followed<1> = follow::<_, 1>(
            &self.as_said(),
            blocks,
            24 / FORESEEN_BLOCK_H,
            &[],
            &Luck::NONE,
            &mut Expected,
            &mut |_, _| {},
        );
        let ends = [Ending::NightPictures, Ending::Camera].map(|ending| followed.ends[ending]);
        let [night_pictures, camera] = ends.map(|Lanes([days])| days);
        min(night_pictures, camera)
    }
}
