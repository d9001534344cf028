//! Fields of a comma-separated line, with the place of each for error messages.

use std::borrow::Cow;

use csv::ByteRecord;

use super::WeatherFileError;
use crate::words::with_decimal_point;

/// One line's fields.
pub(super) struct Fields<'a> {
    record: &'a ByteRecord,
    line: u64,
}

impl<'a> Fields<'a> {
    pub(super) fn line(&self) -> u64 {
        self.line
    }

    pub(super) fn count(&self) -> usize {
        self.record.len()
    }

    /// The trimmed text of a field, empty where the line is too short. Place names may be in any
    /// old encoding, so what is not UTF-8 is replaced and not refused.
    pub(super) fn text(&self, index: usize) -> Cow<'a, str> {
        String::from_utf8_lossy(self.record.get(index).unwrap_or_default().trim_ascii())
    }

    /// An error about one field.
    pub(super) fn error(
        &self,
        index: usize,
        message: impl Into<String>,
        expected: impl Into<String>,
    ) -> WeatherFileError {
        let before: usize = self
            .record
            .iter()
            .take(index)
            .map(|field| field.len() + 1)
            .sum();
        WeatherFileError::new(message, expected)
            .at_line(self.line)
            .at_column(before + 1)
    }

    /// A field as a number; `what` names it in the error.
    pub(super) fn number(&self, index: usize, what: &str) -> Result<f64, WeatherFileError> {
        let text = self.text(index);
        let number = text.parse().ok().filter(|value: &f64| value.is_finite());
        number.ok_or_else(|| {
            let is_none = || self.error(index, format!("`{}` is not a number", short(&text)), what);
            self.decimal_comma(index).unwrap_or_else(is_none)
        })
    }

    /// The error of the line's first number with a decimal comma that quotes hold together.
    pub(super) fn any_decimal_comma(&self) -> Option<WeatherFileError> {
        (0..self.count()).find_map(|index| self.decimal_comma(index))
    }

    /// The error of a number in quotes whose decimals stand behind a comma. Where quotes mean nothing to
    /// a format, it stands in two fields.
    fn decimal_comma(&self, index: usize) -> Option<WeatherFileError> {
        let text = self.text(index);
        let written = if text.starts_with('"') {
            format!("{text},{}", self.text(index + 1))
        } else {
            text.into_owned()
        };
        let meant = with_decimal_point(written.trim_matches('"'))?;
        Some(self.error(
            index,
            format!("{written} has a decimal comma"),
            format!("decimals with a point, without quotes: {meant}"),
        ))
    }

    /// A field as a small whole number, such as a month.
    pub(super) fn whole(&self, index: usize, what: &str) -> Result<u8, WeatherFileError> {
        let text = self.text(index);
        text.parse().map_err(|_| {
            let message = format!("`{}` is not a whole number", short(&text));
            self.error(index, message, what)
        })
    }
}

/// As much of a field as a message repeats.
fn short(text: &str) -> String {
    const LONGEST: usize = 40;
    match text.char_indices().nth(LONGEST) {
        Some((end, _)) => format!("{}\u{2026}", &text[..end]),
        None => text.to_owned(),
    }
}

/// No line of a weather file is as long: those of TMY3 have 1.1 kB, comments of EPW files some more.
pub(super) const LONGEST_LINE_BYTES: usize = 8192;

/// Splits a file into lines and fields; lines may have any number of fields, blank ones are left out.
///
/// Each line is split by itself, so that a quotation mark that is never closed ends with its line.
pub(super) struct Lines<'a> {
    rest: &'a [u8],
    quotes: bool,
    record: ByteRecord,
    line: u64,
}

impl<'a> Lines<'a> {
    pub(super) fn new(bytes: &'a [u8], quotes: bool) -> Self {
        Self {
            rest: bytes,
            quotes,
            record: ByteRecord::new(),
            line: 0,
        }
    }

    /// The next line, `None` at the end of the file.
    pub(super) fn next(&mut self) -> Result<Option<Fields<'_>>, WeatherFileError> {
        let Some(line) = self.next_line() else {
            return Ok(None);
        };
        // Each field of a record takes several times the bytes that it has in the file.
        if line.len() > LONGEST_LINE_BYTES {
            let message = format!("the line has {} bytes", line.len());
            let expected = format!("at most {LONGEST_LINE_BYTES}; is this the right file?");
            return Err(WeatherFileError::new(message, expected).at_line(self.line));
        }
        self.split(line);
        Ok(Some(Fields {
            record: &self.record,
            line: self.line,
        }))
    }

    /// Takes a line's fields. A parser of whole files would go on behind a quotation mark that is never
    /// closed, and one made anew for each line costs half a second a file.
    fn split(&mut self, line: &[u8]) {
        self.record.clear();
        let mut rest = Some(line);
        while let Some(text) = rest {
            let end = match text {
                [b'"', ..] if self.quotes => end_of_quoted(text),
                _ => end_of_plain(text, 0),
            };
            let (field, behind) = text.split_at(end);
            match field {
                [b'"', quoted @ ..] if self.quotes => self.record.push_field(&unquoted(quoted)),
                _ => self.record.push_field(field),
            }
            rest = behind.strip_prefix(b",");
        }
    }

    /// The next line that is not empty.
    fn next_line(&mut self) -> Option<&'a [u8]> {
        while !self.rest.is_empty() {
            let end = self.rest.iter().position(|byte| b"\r\n".contains(byte));
            let (line, behind) = self.rest.split_at(end.unwrap_or(self.rest.len()));
            let ended_by = if behind.starts_with(b"\r\n") { 2 } else { 1 };
            self.rest = behind.get(ended_by..).unwrap_or_default();
            self.line += 1;
            if !line.is_empty() {
                return Some(line);
            }
        }
        None
    }
}

/// The comma that ends a field, from `start` on, or the line's end.
fn end_of_plain(text: &[u8], start: usize) -> usize {
    let rest = text.get(start..).unwrap_or_default();
    let comma = rest.iter().position(|byte| *byte == b',');
    comma.map_or(text.len(), |comma| start + comma)
}

/// The comma that ends a field which begins with a quotation mark: the first behind an even number of
/// them, doubled ones among them.
fn end_of_quoted(text: &[u8]) -> usize {
    let mut quoted = false;
    let end = text.iter().position(|byte| {
        quoted ^= *byte == b'"';
        *byte == b',' && !quoted
    });
    end.unwrap_or(text.len())
}

/// A quoted field without the marks around it, doubled ones as one (RFC 4180); the opening one is off
/// already.
fn unquoted(field: &[u8]) -> Vec<u8> {
    let mut text = Vec::with_capacity(field.len());
    let mut bytes = field.iter().copied().peekable();
    while let Some(byte) = bytes.next() {
        if byte != b'"' || bytes.next_if_eq(&b'"').is_some() {
            text.push(byte);
        }
    }
    text
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    fn fields(line: &[u8], quotes: bool) -> Vec<Vec<u8>> {
        let mut lines = Lines::new(line, quotes);
        let fields = lines.next().unwrap_or_else(|error| panic!("{error}"));
        fields.map_or_else(Vec::new, |fields| {
            fields.record.iter().map(<[u8]>::to_vec).collect()
        })
    }

    #[test]
    fn quotes_hold_a_field_together() {
        let line = br#"723170,"NOWHERE, ""INLAND""",XX,,"open, 1"#;
        let told = fields(line, true);
        let expected: [&[u8]; 5] = [b"723170", b"NOWHERE, \"INLAND\"", b"XX", b"", b"open, 1"];
        assert_eq!(told, expected);
        assert_eq!(fields(line, false).len(), 7);
    }

    proptest! {
        #[test]
        fn a_line_is_split_as_a_parser_of_files_does(
            given in prop::collection::vec("[a-z0-9 .,\"]{0,8}", 1..8), quotes: bool,
        ) {
            let mut writer = csv::WriterBuilder::new().from_writer(Vec::new());
            writer.write_record(&given).unwrap();
            let written = writer.into_inner().unwrap();
            let line = written.trim_ascii_end();
            prop_assume!(!line.is_empty());
            let mut reader = csv::ReaderBuilder::new()
                .has_headers(false)
                .quoting(quotes)
                .from_reader(line);
            let expected = reader.byte_records().next().unwrap().unwrap();
            let expected: Vec<Vec<u8>> = expected.iter().map(<[u8]>::to_vec).collect();
            prop_assert_eq!(fields(line, quotes), expected);
        }
    }
}
