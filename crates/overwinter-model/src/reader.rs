//! Reads stored bytes value by value: the numbers of [`crate::number`], and the whole numbers, marks
//! and variants of `postcard`'s format.
//!
//! Reading goes on after a failure, with zeros, and tells at its end what the first one was. On a
//! device the code for a value is so a call and nothing else; with a result to be looked at after
//! each it takes three times as much.

use crate::blob::{OutOfRange, Quantity, Range};
use crate::number;

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

    pub(crate) fn days(&mut self) -> i32 {
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
        if kind == number::PLAIN {
            return f64::from_le_bytes([(); 8].map(|()| self.byte()));
        }
        let digits = self.signed(64);
        number::decimal(kind, digits).unwrap_or_else(|| {
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
        let Range { lowest, highest } = *what.range();
        self.check_within(value, what, lowest, highest);
    }

    /// The same for one that may be no higher than another.
    #[inline(never)]
    pub(crate) fn check_up_to(&mut self, value: f64, what: Quantity, highest: f64) {
        self.check_within(value, what, what.range().lowest, highest);
    }

    /// The same where other values give the range.
    #[inline(never)]
    pub(crate) fn check_within(&mut self, value: f64, what: Quantity, lowest: f64, highest: f64) {
        if let Err(why) = what.within(value, lowest, highest) {
            self.refuse(Wrong::OutOfRange(why));
        }
    }
}
