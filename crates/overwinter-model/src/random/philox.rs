//! Bits from a counter: Philox4x32-10.
//!
//! Source: Salmon, Moraes, Dror and Shaw 2011, "Parallel random numbers: as easy as 1, 2, 3",
//! SC '11, section 3.3 (multipliers, Weyl constants and ten rounds). The known answers in the tests
//! are those of the Random123 distribution's `kat_vectors`, from memory, and found the same in
//! several independent implementations.

/// Multipliers of the two halves of a round.
const MULTIPLIERS: [u64; 2] = [0xD251_1F53, 0xCD9E_8D57];
/// What the two key words grow by from round to round: golden ratio and √3 - 1.
const KEY_STEPS: [u32; 2] = [0x9E37_79B9, 0xBB67_AE85];
const ROUNDS: u32 = 10;

/// The seed of a whole run: another key, other numbers throughout.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Key(pub u64);

/// What a number is for. Two that differ in any part, or in the path, are independent.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Draw {
    /// The day it is drawn on, or another count in time.
    pub day: u32,
    /// What is drawn: weather, passes of animals, quality of cells; numbered by the caller.
    pub purpose: u32,
    /// Whose it is: a camera, a line; numbered by the caller.
    pub stream: u32,
}

/// Four words of 32 random bits for each path.
// Inlined so that it is compiled for the instruction set of its caller.
#[inline(always)]
#[must_use]
pub fn bits<const L: usize>(key: Key, paths: [u32; L], draw: Draw) -> [[u32; L]; 4] {
    let [mut first, mut second, mut third, mut fourth] = [[0; L]; 4];
    let words = first
        .iter_mut()
        .zip(&mut second)
        .zip(&mut third)
        .zip(&mut fourth);
    for ((((first, second), third), fourth), path) in words.zip(paths) {
        let counter = [path, draw.day, draw.purpose, draw.stream];
        [*first, *second, *third, *fourth] = block(key, counter);
    }
    [first, second, third, fourth]
}

/// One path's four words.
///
/// The words are carried in 64 bits with anything in the upper half, which is what multiplying
/// lanes of 32 bits to 64 takes and gives; it is cut off where it would be seen.
// Inlined into the loop over lanes, which is vectorised.
#[inline(always)]
fn block(key: Key, counter: [u32; 4]) -> [u32; 4] {
    let [mut key_low, mut key_high] = [key.0 as u32, (key.0 >> 32) as u32];
    let [mut a, mut b, mut c, mut d] = counter.map(u64::from);
    let [step_low, step_high] = KEY_STEPS;
    for _ in 0..ROUNDS {
        let [left, right] = MULTIPLIERS;
        let (left, right) = (low_half(a) * left, low_half(c) * right);
        a = (right >> 32) ^ b ^ u64::from(key_low);
        b = right;
        c = (left >> 32) ^ d ^ u64::from(key_high);
        d = left;
        key_low = key_low.wrapping_add(step_low);
        key_high = key_high.wrapping_add(step_high);
    }
    [a as u32, b as u32, c as u32, d as u32]
}

// Inlined into the loop over lanes, which is vectorised.
#[inline(always)]
fn low_half(word: u64) -> u64 {
    word & 0xFFFF_FFFF
}

/// Evenly spread over the open interval 0 to 1: `(word + 1/2) / 2^32`, so 2^-33 to 1 - 2^-33.
// Inlined so that it is compiled for the instruction set of its caller.
#[inline(always)]
#[must_use]
pub fn uniform<const L: usize>(words: [u32; L]) -> [f64; L] {
    const STEP: f64 = 1.0 / 4_294_967_296.0;
    let mut out = [0.0; L];
    for (out, word) in out.iter_mut().zip(words) {
        *out = (f64::from(word) + 0.5) * STEP;
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn known_answers_of_random123() {
        let zero = [0; 4];
        let ones = [u32::MAX; 4];
        let pi = [0x243f_6a88, 0x85a3_08d3, 0x1319_8a2e, 0x0370_7344];
        for (counter, key, expected) in [
            (
                zero,
                0,
                [0x6627_e8d5, 0xe169_c58d, 0xbc57_ac4c, 0x9b00_dbd8],
            ),
            (
                ones,
                u64::MAX,
                [0x408f_276d, 0x41c8_3b0e, 0xa20b_c7c6, 0x6d54_51fd],
            ),
            (
                pi,
                0x299f_31d0_a409_3822,
                [0xd16c_fe09, 0x94fd_cceb, 0x5001_e420, 0x2412_6ea1],
            ),
        ] {
            let [path, day, purpose, stream] = counter;
            let draw = Draw {
                day,
                purpose,
                stream,
            };
            let words = bits(Key(key), [path; 3], draw);
            assert_eq!(words, expected.map(|word| [word; 3]));
        }
    }

    #[test]
    #[expect(clippy::float_cmp, reason = "both ends are exact in binary")]
    fn uniform_is_open_at_both_ends() {
        let step = 1.0 / 4_294_967_296.0;
        assert_eq!(uniform([0, u32::MAX]), [0.5 * step, 1.0 - 0.5 * step]);
    }
}
