//! A line of text without the formatting machinery of `core`, which is larger than the model's
//! time loop and brings panics with it.

/// Words and numbers in hexadecimal, handed on piece by piece: a line of its own would take more of the
/// stack than most of what it is told from.
#[derive(Debug)]
pub struct Line<'a, F> {
    out: &'a mut F,
}

impl<'a, F: FnMut(&[u8])> Line<'a, F> {
    /// A line that begins with `word`.
    #[must_use]
    pub fn new(out: &'a mut F, word: &str) -> Self {
        out(word.as_bytes());
        Self { out }
    }

    /// A space and `word`.
    #[must_use]
    pub fn word(self, word: &str) -> Self {
        (self.out)(b" ");
        (self.out)(word.as_bytes());
        self
    }

    /// A space and a whole number in hexadecimal, as many digits as `N`.
    fn hexadecimal<const N: usize>(self, number: u64) -> Self {
        let mut digits = [0; N];
        let mut left = number;
        for digit in digits.iter_mut().rev() {
            *digit = match (left & 0xf) as u8 {
                nibble @ 0..=9 => b'0' + nibble,
                nibble => b'a' + (nibble - 10),
            };
            left >>= 4;
        }
        (self.out)(b" ");
        (self.out)(&digits);
        self
    }

    /// A space and a whole number of eight digits.
    #[must_use]
    pub fn whole(self, number: u32) -> Self {
        self.hexadecimal::<8>(number.into())
    }

    /// A space and a whole number of sixteen digits.
    #[must_use]
    pub fn number(self, number: u64) -> Self {
        self.hexadecimal::<16>(number)
    }

    /// A space and the bits of a number. Every NaN is one word: its bits differ by target.
    #[must_use]
    pub fn bits(self, number: f64) -> Self {
        if number.is_nan() {
            self.word("not-a-number")
        } else {
            self.number(number.to_bits())
        }
    }

    /// A space and the bits of a number, or a dash where there is none.
    #[must_use]
    pub fn bits_if_any(self, number: Option<f64>) -> Self {
        match number {
            Some(number) => self.bits(number),
            None => self.word("-"),
        }
    }

    /// Ends the line.
    pub fn end(self) {
        (self.out)(b"\n");
    }
}
