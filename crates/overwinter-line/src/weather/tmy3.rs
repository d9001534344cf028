//! TMY3: a line about the station, a line of column names, 8760 lines (Wilcox & Marion, User's
//! Manual for TMY3 Data Sets, NREL/TP-581-43156, 2008; open format).

use overwinter_model::Place;

use super::table::{Fields, Lines};
use super::year::{Columns, Format, Stamp, YearBuilder};
use super::{Header, WeatherFile, WeatherFileError, check_height};

/// How the column names start, in the order that [`YearBuilder`] takes.
const NAMES: [&str; 4] = ["Dry-bulb (", "GHI (", "DNI (", "DHI ("];

pub(super) fn read(bytes: &[u8]) -> Result<WeatherFile, WeatherFileError> {
    let mut lines = Lines::new(bytes, true);
    let header = match lines.next()? {
        Some(fields) => read_station(&fields)?,
        None => return Err(no_header()),
    };
    let names = lines.next()?.ok_or_else(no_header)?;
    let (date, time) = (column(&names, "Date (")?, column(&names, "Time (")?);
    let mut year = YearBuilder::new(Format {
        columns: columns(&names)?,
        dew_point: column(&names, "Dew-point (").ok(),
        most_fields: names.count(),
    });
    while let Some(fields) = lines.next()? {
        year.check_length(&fields)?;
        year.push(stamp(&fields, date, time)?, &fields)?;
    }
    Ok(WeatherFile::new(header, year.finish()?))
}

fn no_header() -> WeatherFileError {
    WeatherFileError::new(
        "the header is not there",
        "a station line and a line of column names",
    )
}

fn read_station(fields: &Fields<'_>) -> Result<Header, WeatherFileError> {
    let utc_offset_h = fields.number(3, "hours from UTC")?;
    let latitude_deg = fields.number(4, "latitude in degrees")?;
    let longitude_deg = fields.number(5, "longitude in degrees, east positive")?;
    let place = Place::new(latitude_deg, longitude_deg, utc_offset_h).map_err(|error| {
        WeatherFileError::new(error.to_string(), "the place of the weather station")
            .at_line(fields.line())
    })?;
    let elevation_m = fields.number(6, "elevation in metres")?;
    check_height(fields, 6, elevation_m)?;
    Ok(Header { place, elevation_m })
}

fn columns(names: &Fields<'_>) -> Result<Columns, WeatherFileError> {
    let mut columns = [0; 4];
    for (found, name) in columns.iter_mut().zip(NAMES) {
        *found = column(names, name)?;
    }
    Ok(columns)
}

/// The column whose name starts like this.
fn column(names: &Fields<'_>, start: &str) -> Result<usize, WeatherFileError> {
    (0..names.count())
        .find(|index| {
            let name = names.text(*index).to_ascii_lowercase();
            name.starts_with(&start.to_ascii_lowercase())
        })
        .ok_or_else(|| {
            WeatherFileError::new(
                "a column is not there",
                format!("a column name that starts with `{start}`"),
            )
            .at_line(names.line())
        })
}

/// Date as MM/DD/YYYY and the end of the hour as HH:MM, 01:00 to 24:00. Each month may come from
/// another year, so the year is not looked at.
fn stamp(fields: &Fields<'_>, date: usize, time: usize) -> Result<Stamp, WeatherFileError> {
    let parts = |index: usize, mark: char| {
        let text = fields.text(index);
        let mut parts = text.split(mark).map(|part| part.parse().ok());
        Some((parts.next()??, parts.next()?))
    };
    let bad = |index: usize, expected: &str| {
        fields.error(
            index,
            format!("`{}` is not a time", fields.text(index)),
            expected,
        )
    };
    let Some((month, Some(day))) = parts(date, '/') else {
        return Err(bad(date, "a date as MM/DD/YYYY"));
    };
    let Some((hour, _)) = parts(time, ':') else {
        return Err(bad(time, "the end of the hour as HH:MM"));
    };
    Ok(Stamp { month, day, hour })
}
