//! Clocks that stand far from the sun.

use std::ops::RangeInclusive;

use overwinter_model::SunDay;

use super::About;
use crate::line::{Line, WeatherOrigin};

/// Noon by the sun may be so far from 12:00.
const FAR_H: f64 = 1.5;

/// South of this no state sets the clock: stations keep that of where their supplies come from.
const NO_CLOCK_DEG: f64 = -60.0;

/// A piece of the earth, in degrees, whose standard time is far from its sun.
struct Region {
    latitude: RangeInclusive<f64>,
    longitude: RangeInclusive<f64>,
    utc_offset_h: f64,
}

const fn region(
    latitude: RangeInclusive<f64>,
    longitude: RangeInclusive<f64>,
    utc_offset_h: f64,
) -> Region {
    Region {
        latitude,
        longitude,
        utc_offset_h,
    }
}

/// Where noon by the sun may be more than 75 minutes from 12:00 by standard time, which the equation of
/// time makes 90 in some weeks. Offsets are those of winter in the IANA time zone database of 2026; the
/// rims are from memory and generous.
const REGIONS: [Region; 25] = [
    // North-western Africa, western Europe, Jan Mayen.
    region(18.0..=36.0, -17.5..=-1.0, 1.0),
    region(36.0..=72.0, -9.5..=-3.0, 1.0),
    // Iceland, western Greenland.
    region(63.0..=67.0, -25.0..=-18.0, 0.0),
    region(59.0..=84.0, -74.0..=-48.0, -2.0),
    // Western Libya, western Turkey, Belarus, Georgia.
    region(19.0..=34.0, 9.0..=12.0, 2.0),
    region(35.0..=43.0, 25.0..=28.0, 3.0),
    region(51.0..=57.0, 23.0..=27.0, 3.0),
    region(41.0..=44.0, 40.0..=44.0, 4.0),
    // The northern Urals and the islands behind them under Moscow's time.
    region(59.0..=82.0, 58.0..=70.0, 3.0),
    // From the Caspian Sea to the Urals; Kyrgyzstan and Omsk.
    region(35.0..=62.0, 46.0..=60.0, 5.0),
    region(39.0..=59.0, 69.0..=76.0, 6.0),
    // Siberia from the Ob on, with western China and Mongolia under +8.
    region(49.0..=79.0, 75.0..=90.0, 7.0),
    region(18.0..=65.0, 73.0..=102.0, 8.0),
    region(49.0..=77.0, 105.0..=117.0, 9.0),
    region(42.0..=77.0, 127.0..=137.0, 10.0),
    region(43.0..=77.0, 140.0..=150.0, 11.0),
    region(50.0..=73.0, 155.0..=163.0, 12.0),
    // The Malay peninsula.
    region(-1.0..=8.0, 99.0..=105.0, 8.0),
    // Alaska and the Aleutians, Yukon and its neighbours, the western prairies and northern Mexico.
    region(51.0..=72.0, -175.0..=-141.0, -9.0),
    region(51.0..=54.0, -180.0..=-168.0, -10.0),
    region(51.0..=54.0, 172.0..=180.0, -10.0),
    region(53.0..=77.0, -142.0..=-120.0, -7.0),
    region(25.0..=60.0, -110.5..=-103.0, -6.0),
    // Argentina and southern Chile, Easter Island.
    region(-56.0..=-21.0, -76.0..=-63.0, -3.0),
    region(-28.0..=-26.0, -110.0..=-109.0, -6.0),
];

/// A clock by which the sun stands highest far from noon, on the mean over the season.
pub(super) fn far_from_sun(line: &Line) -> About {
    let place = &line.place;
    let (latitude, longitude) = (place.latitude_deg(), place.longitude_deg());
    let offset = place.utc_offset().as_hours();
    let keeps_it = |region: &Region| {
        region.latitude.contains(&latitude)
            && region.longitude.contains(&longitude)
            && (region.utc_offset_h - offset).abs() < 0.01
    };
    let late_h = noon_after_twelve_h(line);
    if late_h.abs() <= FAR_H || latitude < NO_CLOCK_DEG || REGIONS.iter().any(keeps_it) {
        return None;
    }
    let noon_min = (60.0 * (12.0 + late_h)).round().rem_euclid(1440.0);
    let (hour, minute) = ((noon_min / 60.0).floor(), noon_min % 60.0);
    let header = match &line.climate.origin {
        WeatherOrigin::FileHours(file) | WeatherOrigin::FileNormals(file) => {
            format!(" (where the line file does not give it, the header of {file} does)")
        }
        _ => String::new(),
    };
    let text = format!(
        "the sun stands highest at {hour:02.0}:{minute:02.0} by the clock of the site: is utc_offset_h = \
         {offset} right{header}? At longitude {longitude:.1}° it is expected about {:.0}; it is standard \
         time, never summer time, and longitudes in the west are negative. Night falls at the wrong hours \
         otherwise",
        // A rounded zero keeps no sign.
        (longitude / 15.0).round() + 0.0
    );
    Some(("clock-far-from-sun", text))
}

/// How much later than 12:00 the sun stands highest, hours from -12 to 12, on the mean over the season.
/// Beyond the date line a clock is a whole day off and right.
fn noon_after_twelve_h(line: &Line) -> f64 {
    let within_half_a_day = |hours: f64| (hours + 12.0).rem_euclid(24.0) - 12.0;
    let first = line.season.first_day();
    let days = line.season.days();
    let noon = |day| {
        let noon = SunDay::new(&line.place, first.plus(day)).noon();
        noon.as_hours() - 12.0
    };
    // Counted from the first day's, so that a noon near midnight does not change sides over the season.
    let of_first = noon(0);
    let later = (0..days).map(|day| within_half_a_day(noon(day) - of_first));
    within_half_a_day(of_first + later.sum::<f64>() / f64::from(days))
}

#[cfg(test)]
mod tests {
    use std::path::Path;

    use crate::host::InMemory;

    use super::*;

    /// Whether a clock is asked about at a place, through a winter.
    fn asked_about(latitude: f64, longitude: f64, offset: f64) -> bool {
        let text = format!(
            "[site]\nlatitude_deg = {latitude}\nlongitude_deg = {longitude}\nutc_offset_h = {offset}\n\
             climate = \"boreal-inland\"\n[season]\nstart = 2027-01-20\nend = 2027-02-28\n[pack]\n\
             cell = \"lithium-aa\"\n[activity]\ntriggers_per_day = 8\n[[camera]]\nname = \"ford\"\n"
        );
        let files = InMemory::default().with("line.toml", text);
        far_from_sun(&crate::line::load(&files, Path::new("line.toml")).expect("a line")).is_some()
    }

    /// Places and standard times of the IANA time zone database, 2026; the farthest from their sun, and
    /// those beyond the date line.
    const RIGHT: [(&str, f64, f64, f64); 37] = [
        ("Kashgar", 39.5, 76.0, 8.0),
        ("Khovd", 48.0, 91.7, 7.0),
        ("Dawson", 64.1, -139.4, -7.0),
        ("Inuvik", 68.3, -133.7, -7.0),
        ("Nome", 64.5, -165.4, -9.0),
        ("Adak", 51.9, -176.7, -10.0),
        ("Laayoune", 27.1, -13.2, 1.0),
        ("Casablanca", 33.6, -7.6, 1.0),
        ("Coyhaique", -45.6, -72.1, -3.0),
        ("Punta Arenas", -53.1, -70.9, -3.0),
        ("Mendoza", -32.9, -68.8, -3.0),
        ("Jujuy", -24.2, -65.3, -3.0),
        ("Aqtau", 44.5, 50.3, 5.0),
        ("Sakhalin", 47.0, 142.7, 11.0),
        ("Novosibirsk", 55.0, 82.9, 7.0),
        ("Chita", 52.0, 113.5, 9.0),
        ("Vladivostok", 43.2, 131.9, 10.0),
        ("Kamchatka", 53.0, 158.7, 12.0),
        ("Vostok", -78.4, 106.9, 5.0),
        ("Nuuk", 64.2, -51.7, -2.0),
        ("Galicia", 43.0, -9.2, 1.0),
        ("Reykjavik", 64.1, -21.9, 0.0),
        ("Easter Island", -27.1, -109.4, -6.0),
        ("Singapore", 1.3, 103.8, 8.0),
        ("Kiritimati", 1.9, -157.3, 14.0),
        ("Apia", -13.8, -171.7, 13.0),
        ("Chatham Islands", -43.9, -176.5, 12.75),
        ("Auckland", -36.9, 174.8, 12.0),
        ("Kathmandu", 27.7, 85.3, 5.75),
        ("Urumqi, its own time", 43.8, 87.6, 6.0),
        ("Tibet", 31.0, 85.0, 8.0),
        ("Mo i Rana", 66.3, 14.1, 1.0),
        ("Danmarkshavn", 76.8, -18.7, 0.0),
        ("Chihuahua", 28.6, -106.1, -6.0),
        ("Vorkuta", 67.5, 64.1, 3.0),
        ("Novaya Zemlya", 76.9, 68.0, 3.0),
        ("Banks Island", 72.0, -125.2, -7.0),
    ];

    #[test]
    fn right_clocks_are_left_alone() {
        for (name, latitude, longitude, offset) in RIGHT {
            assert!(!asked_about(latitude, longitude, offset), "{name}");
        }
    }

    #[test]
    fn wrong_clocks_are_asked_about() {
        for (what, latitude, longitude, offset) in [
            ("the sign of the longitude", 61.2, -14.6, 1.0),
            ("the sign of the offset", 47.0, -110.0, 7.0),
            ("UTC", 46.4, -90.0, 0.0),
            ("minutes for hours", 61.2, 14.6, 12.0),
            ("half a day", 51.5, 0.0, 12.0),
            ("half a day, the other way", 51.5, 2.0, -12.0),
            ("two hours of summer", 46.4, 9.1, 3.0),
            ("India by China's clock", 15.0, 76.0, 8.0),
            ("Kashgar by India's sign", 39.5, 76.0, -5.0),
        ] {
            assert!(asked_about(latitude, longitude, offset), "{what}");
        }
    }
}
