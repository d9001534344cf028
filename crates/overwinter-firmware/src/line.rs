//! A line of text without the formatting machinery of `core`, which is larger than the model's
//! time loop and brings panics with it.

/// The most bytes of a [`Line`]; what goes beyond is left out.
const LONGEST: usize = 128;

/// Words and numbers in hexadecimal, in a buffer of fixed length.
#[derive(Debug)]
pub struct Line {
    text: [u8; LONGEST],
    length: usize,
}

impl Line {
    /// A line that begins with `word`.
    #[must_use]
    pub fn new(word: &str) -> Self {
        let mut line = Self {
            text: [0; LONGEST],
            length: 0,
        };
        line.push(word.bytes());
        line
    }

    fn push(&mut self, bytes: impl Iterator<Item = u8>) {
        let free = self.text.iter_mut().skip(self.length);
        for (place, byte) in free.zip(bytes) {
            *place = byte;
            self.length += 1;
        }
    }

    /// A space and `word`.
    #[must_use]
    pub fn word(mut self, word: &str) -> Self {
        self.push(core::iter::once(b' ').chain(word.bytes()));
        self
    }

    /// A space and a whole number of `digits` hexadecimal digits.
    fn hexadecimal(mut self, number: u64, digits: u32) -> Self {
        let nibbles = (0..digits).rev().map(|place| (number >> (4 * place)) & 0xf);
        let digits = nibbles.map(|nibble| match nibble {
            0..=9 => b'0' + nibble as u8,
            _ => b'a' + (nibble - 10) as u8,
        });
        self.push(core::iter::once(b' ').chain(digits));
        self
    }

    /// A space and a whole number of eight digits.
    #[must_use]
    pub fn whole(self, number: u32) -> Self {
        self.hexadecimal(number.into(), 8)
    }

    /// A space and a whole number of sixteen digits.
    #[must_use]
    pub fn number(self, number: u64) -> Self {
        self.hexadecimal(number, 16)
    }

    /// A space and the bits of a number. Every NaN is one word: its bits differ by target.
    #[must_use]
    pub fn bits(self, number: f64) -> Self {
        if number.is_nan() {
            self.word("not-a-number")
        } else {
            self.hexadecimal(number.to_bits(), 16)
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

    /// The whole line, its end included.
    pub fn write(mut self, out: &mut impl FnMut(&[u8])) {
        self.push(core::iter::once(b'\n'));
        if let Some(text) = self.text.get(..self.length) {
            out(text);
        }
    }
}
