//! EPW: eight or so header lines, then 8760 lines of 35 fields (EnergyPlus "Auxiliary Programs",
//! chapter on weather data; open format).

use overwinter_model::Place;

use super::table::{Fields, Lines};
use super::year::{Format, Stamp, YearBuilder};
use super::{Header, WeatherFile, WeatherFileError, check_height};

/// Dry-bulb temperature, global horizontal, direct normal and diffuse horizontal light; and the dew
/// point.
const FORMAT: Format = Format {
    columns: [6, 13, 14, 15],
    dew_point: Some(7),
    most_fields: 35,
};

/// The header ends with the line `DATA PERIODS`; it has no fixed length, but is never longer than this.
const LONGEST_HEADER: usize = 100;

pub(super) fn read(bytes: &[u8]) -> Result<WeatherFile, WeatherFileError> {
    // Comments may hold a lone quotation mark, and no field needs quoting.
    let mut lines = Lines::new(bytes, false);
    let header = read_header(&mut lines)?;
    let mut year = YearBuilder::new(FORMAT);
    while let Some(fields) = lines.next()? {
        year.check_length(&fields)?;
        let stamp = Stamp {
            month: fields.whole(1, "a month, 1 to 12")?,
            day: fields.whole(2, "a day, 1 to 31")?,
            hour: fields.whole(3, "an hour, 1 to 24")?,
        };
        year.push(stamp, &fields)?;
    }
    Ok(WeatherFile::new(header, year.finish()?))
}

/// Reads up to and with the line `DATA PERIODS`.
fn read_header(lines: &mut Lines<'_>) -> Result<Header, WeatherFileError> {
    let mut header = None;
    for _ in 0..LONGEST_HEADER {
        let Some(fields) = lines.next()? else { break };
        let name = fields.text(0).to_ascii_uppercase();
        match (name.as_str(), header) {
            ("LOCATION", _) => header = Some(read_location(&fields)?),
            ("DATA PERIODS", Some(header)) => {
                check_records_per_hour(&fields)?;
                return Ok(header);
            }
            _ => {}
        }
    }
    let expected = "a header that ends with a line `DATA PERIODS,1,1,...`";
    Err(WeatherFileError::new("the header does not end", expected))
}

fn read_location(fields: &Fields<'_>) -> Result<Header, WeatherFileError> {
    let latitude_deg = fields.number(6, "latitude in degrees")?;
    let longitude_deg = fields.number(7, "longitude in degrees, east positive")?;
    let utc_offset_h = fields.number(8, "hours from UTC")?;
    let place = Place::new(latitude_deg, longitude_deg, utc_offset_h).map_err(|error| {
        WeatherFileError::new(error.to_string(), "the place of the weather station")
            .at_line(fields.line())
    })?;
    let elevation_m = fields.number(9, "elevation in metres")?;
    check_height(fields, 9, elevation_m)?;
    Ok(Header { place, elevation_m })
}

fn check_records_per_hour(fields: &Fields<'_>) -> Result<(), WeatherFileError> {
    match fields.text(2).as_ref() {
        "1" => Ok(()),
        other => Err(fields.error(
            2,
            format!("`{other}` records per hour"),
            "one record per hour",
        )),
    }
}
