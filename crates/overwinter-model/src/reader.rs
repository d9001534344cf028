//! Reads stored bytes value by value: the numbers of [`crate::decimal`], and the whole numbers, marks
//! and variants of `postcard`'s format.
//!
//! Reading goes on after a failure, with zeros, and tells at its end what the first one was. On a
//! device the code for a value is so a call and nothing else; with a result to be looked at after
//! each it takes three times as much.

use crate::decimal;
use crate::range::{OutOfRange, Quantity, Range};

/// Why stored bytes were not read.
#[derive(Clone, Copy)]
pub(crate) enum Wrong {
    /// They make no sense, or what a constructor refuses.
    Content,
    OutOfRange(OutOfRange),
}

/// Bytes that are being read.
pub(crate) struct Reader<'a> {
    left: &'a [u8],
    /// The first thing that was wrong, and how many bytes were left behind it.
    wrong: Option<(Wrong, usize)>,
}

impl<'a> Reader<'a> {
    pub(crate) const fn new(bytes: &'a [u8]) -> Self {
        Self {
            left: bytes,
            wrong: None,
        }
    }

    /// The first thing that was wrong, if any was, and how many bytes are left behind what was read.
    pub(crate) fn end(&self) -> (Option<Wrong>, usize) {
        match self.wrong {
            Some((wrong, left)) => (Some(wrong), left),
            None => (None, self.left.len()),
        }
    }

    /// Nothing is left to read after something was wrong.
    #[inline(never)]
    fn refuse(&mut self, wrong: Wrong) {
        if self.wrong.is_none() {
            self.wrong = Some((wrong, self.left.len()));
        }
        self.left = &[];
    }

    /// What was read last makes no sense.
    #[inline(never)]
    pub(crate) fn fail(&mut self) {
        self.refuse(Wrong::Content);
    }

    /// Takes what a constructor has made of values that were read, or fails where it has refused them.
    pub(crate) fn keep<T, E>(&mut self, place: &mut T, made: Result<T, E>) {
        match made {
            Ok(made) => *place = made,
            Err(_) => self.fail(),
        }
    }

    #[inline(never)]
    pub(crate) fn byte(&mut self) -> u8 {
        if let Some((byte, left)) = self.left.split_first() {
            self.left = left;
            *byte
        } else {
            self.fail();
            0
        }
    }

    /// Whether there is something, or something is so.
    #[inline(never)]
    pub(crate) fn mark(&mut self) -> bool {
        match self.byte() {
            0 => false,
            1 => true,
            _ => {
                self.fail();
                false
            }
        }
    }

    /// A whole number of at most so many bits, seven of them in each byte.
    #[inline(never)]
    fn bits(&mut self, most: u32) -> u64 {
        let (mut value, mut at) = (0, 0);
        loop {
            let byte = self.byte();
            let digits = u64::from(byte & 0x7f);
            if at >= most || digits >> (most - at).min(7) != 0 {
                self.fail();
                return 0;
            }
            value |= digits << at;
            if byte < 0x80 {
                return value;
            }
            at += 7;
        }
    }

    /// A count, or the number of a variant.
    #[inline(never)]
    pub(crate) fn whole(&mut self) -> u32 {
        self.bits(32) as u32
    }

    pub(crate) fn short(&mut self) -> u16 {
        self.bits(16) as u16
    }

    /// A whole number with a sign, of at most so many bits.
    #[inline(never)]
    fn signed(&mut self, most: u32) -> i64 {
        let folded = self.bits(most);
        (folded >> 1) as i64 ^ -((folded & 1) as i64)
    }

    pub(crate) fn signed_whole(&mut self) -> i32 {
        self.signed(32) as i32
    }

    /// A variant without fields, of these.
    pub(crate) fn one_of<T: Copy>(&mut self, place: &mut T, all: &[T]) {
        match all.get(self.whole() as usize) {
            Some(variant) => *place = *variant,
            None => self.fail(),
        }
    }

    /// Any number, which may be none: whatever takes it has to hold it against a range.
    #[inline(never)]
    pub(crate) fn any(&mut self) -> f64 {
        let kind = self.byte();
        if kind == decimal::PLAIN {
            return f64::from_le_bytes([(); 8].map(|()| self.byte()));
        }
        let digits = self.signed(64);
        decimal::decimal(kind, digits).unwrap_or_else(|| {
            self.fail();
            0.0
        })
    }

    /// A number in the range of its quantity.
    #[inline(never)]
    pub(crate) fn number(&mut self, place: &mut f64, what: Quantity) {
        *place = self.any();
        self.check(*place, what);
    }

    /// The same for several of one quantity.
    pub(crate) fn numbers(&mut self, places: &mut [f64], what: Quantity) {
        for place in places {
            self.number(place, what);
        }
    }

    /// A number in the range of its quantity, and no higher than another.
    #[inline(never)]
    pub(crate) fn number_up_to(&mut self, place: &mut f64, what: Quantity, highest: f64) {
        *place = self.any();
        self.check_up_to(*place, what, highest);
    }

    /// Refuses a value that is not in the range of its quantity.
    #[inline(never)]
    pub(crate) fn check(&mut self, value: f64, what: Quantity) {
        self.check_within(value, what, what.range());
    }

    /// The same for one that may be no higher than another.
    #[inline(never)]
    pub(crate) fn check_up_to(&mut self, value: f64, what: Quantity, highest: f64) {
        self.check_within(value, what, &Range::between(what.range().lowest, highest));
    }

    /// The same where other values give the range.
    #[inline(never)]
    pub(crate) fn check_within(&mut self, value: f64, what: Quantity, range: &Range) {
        if let Err(why) = what.within(value, range) {
            self.refuse(Wrong::OutOfRange(why));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;
    use serde::Deserialize;

    #[derive(Deserialize)]
    struct Number(#[serde(with = "crate::decimal")] f64);

    /// What `postcard` reads at the start of some bytes, and how many it leaves.
    fn by_postcard<'b, T: Deserialize<'b>>(bytes: &'b [u8]) -> Option<(T, usize)> {
        let (value, left) = postcard::take_from_bytes(bytes).ok()?;
        Some((value, left.len()))
    }

    /// The same of the reader.
    fn read<'b, T>(bytes: &'b [u8], read: impl FnOnce(&mut Reader<'b>) -> T) -> Option<(T, usize)> {
        let mut reader = Reader::new(bytes);
        let value = read(&mut reader);
        let (wrong, left) = reader.end();
        wrong.is_none().then_some((value, left))
    }

    /// Bytes of which many are the middle of a number, or its last.
    fn bytes() -> impl Strategy<Value = std::vec::Vec<u8>> {
        let byte = prop_oneof![
            any::<u8>(),
            0x80_u8..=0xff,
            Just(1),
            Just(3),
            Just(4),
            Just(15)
        ];
        prop::collection::vec(byte, 0..14)
    }

    proptest! {
        #[test]
        fn every_value_is_read_as_postcard_reads_it(bytes in bytes()) {
            prop_assert_eq!(read(&bytes, Reader::whole), by_postcard(&bytes));
            prop_assert_eq!(read(&bytes, Reader::short), by_postcard(&bytes));
            prop_assert_eq!(read(&bytes, Reader::signed_whole), by_postcard(&bytes));
            prop_assert_eq!(read(&bytes, |reader| reader.signed(64)), by_postcard(&bytes));
            prop_assert_eq!(read(&bytes, Reader::byte), by_postcard(&bytes));
            prop_assert_eq!(read(&bytes, Reader::mark), by_postcard(&bytes));
        }

        #[test]
        fn every_finite_number_is_read_as_serde_reads_it(
            kind in prop_oneof![0..64_u8, Just(decimal::PLAIN), any::<u8>()], rest in bytes(),
        ) {
            let bytes = [&[kind], rest.as_slice()].concat();
            let read = read(&bytes, Reader::any).filter(|(value, _)| value.is_finite());
            prop_assert_eq!(read, by_postcard(&bytes).map(|(Number(value), left)| (value, left)));
        }
    }

    #[test]
    fn the_first_that_is_wrong_is_told_and_the_rest_is_zeros() {
        let bytes = [0, 2, 0, 200, 0, 1, 2];
        let mut reader = Reader::new(&bytes);
        let mut share = 0.5;
        reader.number(&mut share, Quantity::Clearness);
        assert!(reader.end().0.is_none());
        reader.number(&mut share, Quantity::ClearnessSpread);
        let (wrong, left) = reader.end();
        assert_eq!(left, 2);
        let Some(Wrong::OutOfRange(why)) = wrong else {
            panic!("refused for another reason");
        };
        assert_eq!((why.what, why.highest), (Quantity::ClearnessSpread, 0.5));
        assert_eq!(
            (reader.byte(), reader.any(), reader.mark()),
            (0, 0.0, false)
        );
        assert!(matches!(reader.end(), (Some(Wrong::OutOfRange(_)), 2)));
    }

    #[test]
    fn no_number_is_in_no_range() {
        for value in [f64::NAN, f64::INFINITY, f64::NEG_INFINITY] {
            for what in Quantity::ALL {
                let mut reader = Reader::new(&[]);
                reader.check(value, *what);
                assert!(reader.end().0.is_some(), "{what} of {value}");
            }
        }
    }
}
