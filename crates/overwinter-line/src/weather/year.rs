//! The hours of a year, put together line by line: order, leap day, missing values.

use std::ops::RangeInclusive;

use super::doubt::DewPoints;
use super::table::Fields;
use super::{BELIEVED_C, WeatherFileError, WeatherHour};

/// Lengths of the months of a year without a leap day.
pub(super) const MONTH_DAYS: [u8; 12] = [31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31];

/// The longest run of missing hours that is filled with a straight line. A quarter of a day: longer
/// runs could hide a whole night. Common practice, no source.
const LONGEST_GAP_H: usize = 6;

/// A quantity that a weather file gives for each hour.
struct Quantity {
    name: &'static str,
    expected: &'static str,
    /// Values from here on mean "missing": 99.9 for temperature and 9999 for light in EPW.
    missing_from: f64,
    /// What the instruments and models of such files give on earth, in the quantity's unit.
    believed: RangeInclusive<f64>,
    /// What values that cannot be are in another unit, and what to do about it.
    other_units: &'static [(RangeInclusive<f64>, &'static str)],
}

/// Values down from here mean "missing" in every column: -9900 in TMY3, -9999 elsewhere.
const MISSING_TO: f64 = -999.0;

/// Light is given up to 10 W/m2 below zero by some sensors at night; it counts as none.
const LIGHT: Quantity = Quantity {
    name: "",
    expected: "light in W/m2, -10 to 1600",
    missing_from: 9999.0,
    believed: -10.0..=1600.0,
    other_units: &[],
};

/// Temperatures of the air in kelvin. No file marks what is missing by a number among them.
pub(crate) const KELVIN: RangeInclusive<f64> = 200.0..=330.0;

/// What to do about kelvin.
pub(crate) const FROM_KELVIN: &str = "this looks like kelvin: take 273.15 off";

/// What to do about degrees Fahrenheit.
pub(crate) const FROM_FAHRENHEIT: &str =
    "this looks like degrees Fahrenheit: take 32 off and divide by 1.8";

/// In the order of [`Stamped::values`].
const QUANTITIES: [Quantity; 4] = [
    Quantity {
        name: "air temperature",
        expected: "air temperature in degrees Celsius, -90 to 60",
        missing_from: 99.9,
        believed: BELIEVED_C,
        other_units: &[(KELVIN, FROM_KELVIN), (60.0..=99.8, FROM_FAHRENHEIT)],
    },
    Quantity {
        name: "global light",
        ..LIGHT
    },
    Quantity {
        name: "direct light",
        ..LIGHT
    },
    Quantity {
        name: "diffuse light",
        ..LIGHT
    },
];

/// When a line's hour ends, in local standard time: month 1 to 12, day from 1, hour 1 to 24.
#[derive(Clone, Copy, PartialEq)]
pub(super) struct Stamp {
    pub(super) month: u8,
    pub(super) day: u8,
    pub(super) hour: u8,
}

impl Stamp {
    const FIRST: Self = Self {
        month: 1,
        day: 1,
        hour: 1,
    };

    /// The hour after this one; `None` after the last of the year.
    fn next(self) -> Option<Self> {
        let days = MONTH_DAYS.get(usize::from(self.month) - 1)?;
        match self {
            Self { hour: 1..24, .. } => Some(Self {
                hour: self.hour + 1,
                ..self
            }),
            Self { day, .. } if day < *days => Some(Self {
                day: day + 1,
                hour: 1,
                ..self
            }),
            Self { month: 12, .. } => None,
            Self { month, .. } => Some(Self {
                month: month + 1,
                day: 1,
                hour: 1,
            }),
        }
    }
}

impl std::fmt::Display for Stamp {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(
            f,
            "month {} day {} hour {}",
            self.month, self.day, self.hour
        )
    }
}

/// Where a format keeps air temperature, global, direct and diffuse light.
pub(super) type Columns = [usize; 4];

/// How the lines of a format are made.
pub(super) struct Format {
    /// Where it keeps what is needed.
    pub(super) columns: Columns,
    /// Where it keeps the dew point, if it does.
    pub(super) dew_point: Option<usize>,
    /// More fields than these are none of its own.
    pub(super) most_fields: usize,
}

/// A year of hours, and what its dew points look like.
pub(super) struct Year {
    pub(super) hours: Vec<WeatherHour>,
    pub(super) dew_points: DewPoints,
}

/// A line's hour; `None` marks a missing value.
struct Stamped {
    line: u64,
    values: [Option<f64>; 4],
}

/// Takes a file's hours one line after another.
pub(super) struct YearBuilder {
    format: Format,
    dew_points: DewPoints,
    /// Fields of the first line; a shorter one later was cut off.
    fields: Option<usize>,
    expected: Option<Stamp>,
    last_line: u64,
    hours: Vec<Stamped>,
}

impl YearBuilder {
    pub(super) fn new(format: Format) -> Self {
        Self {
            format,
            dew_points: DewPoints::default(),
            fields: None,
            expected: Some(Stamp::FIRST),
            last_line: 0,
            hours: Vec::with_capacity(overwinter_model::HOURS_OF_YEAR),
        }
    }

    /// Refuses a line that was cut off, and one with more fields than its format has: each decimal
    /// comma makes one.
    pub(super) fn check_length(&mut self, fields: &Fields<'_>) -> Result<(), WeatherFileError> {
        let columns = self.format.columns.into_iter();
        let needed = columns.max().map_or(0, |last| last + 1);
        let usual = *self.fields.get_or_insert(fields.count());
        if fields.count() < needed.max(usual) {
            let message = format!("the line ends after {} fields", fields.count());
            let expected = format!("{} fields; is the file cut short?", needed.max(usual));
            return Err(WeatherFileError::new(message, expected).at_line(fields.line()));
        }
        let most = self.format.most_fields;
        // Commas at the end of a line do no harm.
        let last = (0..fields.count()).rfind(|index| !fields.text(*index).is_empty());
        if let Some(count) = last.map(|last| last + 1).filter(|count| *count > most) {
            if let Some(error) = fields.any_decimal_comma() {
                return Err(error);
            }
            let message = format!("the line has {count} fields");
            let expected = format!(
                "at most {most}: write decimals with a point, since a comma makes one more, and name every column"
            );
            return Err(WeatherFileError::new(message, expected).at_line(fields.line()));
        }
        Ok(())
    }

    /// Adds a line's hour. 29 February is passed over, so that every year has 8760 hours.
    pub(super) fn push(
        &mut self,
        stamp: Stamp,
        fields: &Fields<'_>,
    ) -> Result<(), WeatherFileError> {
        self.last_line = fields.line();
        if (stamp.month, stamp.day) == (2, 29) {
            return Ok(());
        }
        let Some(expected) = self.expected else {
            let message = format!("{stamp} follows the last hour of the year");
            return Err(WeatherFileError::new(message, "one year of hours").at_line(fields.line()));
        };
        if stamp != expected {
            let message = format!("hours out of order: {stamp}");
            return Err(WeatherFileError::new(message, expected.to_string()).at_line(fields.line()));
        }
        let mut values = [None; 4];
        for ((value, quantity), column) in
            values.iter_mut().zip(&QUANTITIES).zip(self.format.columns)
        {
            *value = quantity.read(fields, column)?;
        }
        if let (Some(air), Some(column)) = (values[0], self.format.dew_point) {
            self.dew_points.note(air, &fields.text(column));
        }
        self.hours.push(Stamped {
            line: fields.line(),
            values,
        });
        self.expected = expected.next();
        Ok(())
    }

    /// The year, complete and without gaps.
    pub(super) fn finish(self) -> Result<Year, WeatherFileError> {
        if let Some(expected) = self.expected {
            let message = format!("the file ends after {} of 8760 hours", self.hours.len());
            let error = WeatherFileError::new(message, expected.to_string());
            return Err(match self.last_line {
                0 => error,
                line => error.at_line(line),
            });
        }
        let [air, global, direct, diffuse] = [0, 1, 2, 3].map(|index| self.filled(index));
        let (air, global, direct, diffuse) = (air?, global?, direct?, diffuse?);
        let light = |value: f64| value.max(0.0);
        let hours = (0..self.hours.len()).map(|hour| WeatherHour {
            air_c: air[hour],
            ghi_w_per_m2: light(global[hour]),
            dni_w_per_m2: light(direct[hour]),
            dhi_w_per_m2: light(diffuse[hour]),
        });
        Ok(Year {
            hours: hours.collect(),
            dew_points: self.dew_points,
        })
    }

    /// One quantity with its gaps filled by straight lines; the year is taken as a ring.
    fn filled(&self, quantity: usize) -> Result<Vec<f64>, WeatherFileError> {
        let n = self.hours.len();
        let known = |hour: usize| self.hours[hour % n].values[quantity];
        (0..n)
            .map(|hour| {
                if let Some(value) = known(hour) {
                    return Ok(value);
                }
                let back = (1..=LONGEST_GAP_H).find_map(|k| Some((k, known(hour + n - k)?)));
                let ahead = (1..=LONGEST_GAP_H).find_map(|k| Some((k, known(hour + k)?)));
                match (back, ahead) {
                    (Some((b, before)), Some((a, after))) if a + b <= LONGEST_GAP_H + 1 => {
                        Ok(before + (after - before) * b as f64 / (a + b) as f64)
                    }
                    _ => Err(self.gap_error(hour, quantity)),
                }
            })
            .collect()
    }

    fn gap_error(&self, hour: usize, quantity: usize) -> WeatherFileError {
        let missing = self.hours[hour..]
            .iter()
            .take_while(|h| h.values[quantity].is_none())
            .count();
        let name = QUANTITIES[quantity].name;
        let message = format!("{name} is missing here and for {missing} hours in all");
        let expected = format!("gaps of at most {LONGEST_GAP_H} hours");
        WeatherFileError::new(message, expected).at_line(self.hours[hour].line)
    }
}

impl Quantity {
    /// The value of a field, `None` where it is empty or a code for "missing".
    fn read(&self, fields: &Fields<'_>, column: usize) -> Result<Option<f64>, WeatherFileError> {
        if fields.text(column).is_empty() {
            return Ok(None);
        }
        let value = fields.number(column, self.expected)?;
        if self.believed.contains(&value) {
            return Ok(Some(value));
        }
        let mut other_units = self.other_units.iter();
        let meant = other_units.find(|(range, _)| range.contains(&value));
        if meant.is_none() && (value >= self.missing_from || value <= MISSING_TO) {
            return Ok(None);
        }
        let message = format!("{} of {value} is beyond belief", self.name);
        let expected = match meant {
            Some((_, what_to_do)) => format!("{}; {what_to_do}", self.expected),
            None => self.expected.to_owned(),
        };
        Err(fields.error(column, message, expected))
    }
}
