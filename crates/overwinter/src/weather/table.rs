//! Fields of a comma-separated line, with the place of each for error messages.

use std::borrow::Cow;

use csv::ByteRecord;

use super::WeatherFileError;

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
        text.parse()
            .ok()
            .filter(|value: &f64| value.is_finite())
            .ok_or_else(|| self.error(index, format!("`{text}` is not a number"), what))
    }

    /// A field as a small whole number, such as a month.
    pub(super) fn whole(&self, index: usize, what: &str) -> Result<u8, WeatherFileError> {
        let text = self.text(index);
        text.parse()
            .map_err(|_| self.error(index, format!("`{text}` is not a whole number"), what))
    }
}

/// Splits a file into lines and fields; lines may have any number of fields, blank ones are left out.
pub(super) struct Lines<'a> {
    bytes: &'a [u8],
    reader: csv::Reader<&'a [u8]>,
    record: ByteRecord,
    /// Line ends are counted up to this byte, and there were so many.
    counted_to: usize,
    line_ends: u64,
}

impl<'a> Lines<'a> {
    pub(super) fn new(bytes: &'a [u8], quotes: bool) -> Self {
        let reader = csv::ReaderBuilder::new()
            .has_headers(false)
            .flexible(true)
            .quoting(quotes)
            .from_reader(bytes);
        Self {
            bytes,
            reader,
            record: ByteRecord::new(),
            counted_to: 0,
            line_ends: 0,
        }
    }

    /// The next line, `None` at the end of the file.
    pub(super) fn next(&mut self) -> Result<Option<Fields<'_>>, WeatherFileError> {
        let more = self.reader.read_byte_record(&mut self.record);
        let line = self.line();
        match more {
            Ok(true) => Ok(Some(Fields {
                record: &self.record,
                line,
            })),
            Ok(false) => Ok(None),
            Err(error) => Err(
                WeatherFileError::new(error.to_string(), "comma-separated fields").at_line(line),
            ),
        }
    }

    /// The line of the record at hand. The reader's own count is of where it began to look, which is
    /// before blank lines and before the second half of a CRLF.
    fn line(&mut self) -> u64 {
        let looked_from = self.record.position().map_or(0, csv::Position::byte);
        let looked_from = usize::try_from(looked_from).unwrap_or(usize::MAX);
        let rest = self.bytes.get(looked_from..).unwrap_or_default();
        let skipped = rest
            .iter()
            .take_while(|byte| matches!(byte, b'\r' | b'\n'))
            .count();
        let passed = self
            .bytes
            .get(self.counted_to..looked_from + skipped)
            .unwrap_or_default();
        self.counted_to += passed.len();
        self.line_ends += passed
            .iter()
            .map(|byte| u64::from(*byte == b'\n'))
            .sum::<u64>();
        self.line_ends + 1
    }
}
