//! Cameras that differ in everything a blob can hold: every cell of the catalogue, from the tropics
//! to beyond the polar circle, with and without light, video, uploads, reports, a card and a panel. The
//! figures are invented.

mod panel;

use overwinter_model::cell::catalogue::{CATALOGUE, CatalogueCell};
use overwinter_model::draw::{Burst, Card, CheckIn, Draw, Event, Upload, UploadMode, Use};
use overwinter_model::installation::{Air, Installation};
use overwinter_model::pack::Pack;
use overwinter_model::season::Scenario;
use overwinter_model::{
    Activity, Day, MonthNormals, Normals, Pattern, Place, Power, Temperature, Time, Voltage,
};

/// A site: latitude, mean of its coldest and its warmest month, daily range, °C and K.
type Site = (f64, f64, f64, f64);

const SITES: [Site; 6] = [
    (68.4, -16.0, 12.0, 9.0),
    (61.2, -9.0, 15.0, 8.0),
    (46.4, -2.0, 18.0, 10.0),
    (34.0, 9.0, 27.0, 12.0),
    (-41.5, 6.0, 17.0, 9.0),
    (2.0, 24.0, 26.0, 7.0),
];

const PATTERNS: [Pattern; 5] = [
    Pattern::Twilight,
    Pattern::Night,
    Pattern::Day,
    Pattern::Even,
    Pattern::ByHour([
        0.0, 0.0, 1.0, 2.0, 2.5, 4.0, 3.0, 1.0, 0.0, 0.0, 0.0, 0.0, 0.5, 0.0, 0.0, 0.0, 1.5, 3.0,
        5.0, 4.0, 2.0, 1.0, 0.3, 0.0,
    ]),
];

/// Each cell with three cameras.
const CAMERAS_PER_CELL: usize = 3;

/// Every case with its name.
pub(crate) fn all() -> impl Iterator<Item = (String, Installation)> {
    CATALOGUE.iter().enumerate().flat_map(|(i, cell)| {
        (0..CAMERAS_PER_CELL).map(move |j| {
            let number = CAMERAS_PER_CELL * i + j;
            let name = format!("{number:02}-{}", cell.name.replace('.', "-"));
            (name, installation(cell, number))
        })
    })
}

/// One of `choices`, another one for the next number.
fn nth<T: Clone>(choices: &[T], number: usize) -> T {
    choices[number % choices.len()].clone()
}

fn installation(cell: &CatalogueCell, number: usize) -> Installation {
    let (latitude, coldest, warmest, range) = nth(&SITES, number);
    let longitude = nth(&[24.5, -71.3, 9.1, 174.0], number);
    let rate = nth(&[3.0, 18.5, 0.25, 55.0, 9.0], number);
    let months: [f64; 12] = std::array::from_fn(|month| rate * (1.0 + 0.05 * month as f64));
    let air = match number % 8 {
        7 => Air::Constant(Temperature::from_celsius(-11.5)),
        _ => Air::Normals(normals(coldest, warmest, range, latitude < 0.0)),
    };
    Installation {
        scenario: scenario(cell, number),
        place: Place::new(latitude, longitude, (longitude / 15.0_f64).round()).unwrap(),
        air,
        sunlight: panel::sunlight(number),
        activity: Activity::new(months, nth(&PATTERNS, number)).unwrap(),
        flash_below_sun_deg: nth(&[0.0, -3.0, 4.5, -0.833], number),
        // 2026-10-01 and later.
        first_day: Day::from_days_since_2000(9770 + 17 * number as i32),
        days: nth(&[60, 150, 30, 100], number),
    }
}

/// Twelve months between the coldest and the warmest, January or July first.
fn normals(coldest: f64, warmest: f64, range: f64, southern: bool) -> Normals {
    let months = std::array::from_fn(|month| {
        let from_coldest = (month as f64 + if southern { 6.0 } else { 0.0 }) / 12.0;
        let up = 0.5 - 0.5 * (from_coldest * std::f64::consts::TAU).cos();
        // A tenth of a degree, as normals are published.
        let mean = (10.0 * (coldest + (warmest - coldest) * up)).round() / 10.0;
        MonthNormals {
            mean: Temperature::from_celsius(mean),
            daily_max: Temperature::from_celsius(mean + 0.5 * range),
            daily_min: Temperature::from_celsius(mean - 0.5 * range),
        }
    });
    Normals::new(months).unwrap()
}

/// A camera for about 12 V on as many of the cell as that takes, half used up in every fourth.
fn scenario(cell: &CatalogueCell, number: usize) -> Scenario {
    let single = Pack::new(&cell.cell, 1, 1).unwrap().fresh_voltage();
    let series = (12.0 / single.as_volts()).round().max(1.0) as u8;
    let pack = Pack::new(&cell.cell, series, nth(&[1, 2, 1], number)).unwrap();
    let mut start = pack.full();
    if number % 4 == 3 {
        for cell in [&mut start.ordinary, &mut start.weakest] {
            cell.wells.available = cell.wells.available / 2.0;
            cell.wells.bound = cell.wells.bound / 2.0;
            cell.age = Time::from_days(200.0);
        }
    }
    let draw = draw(&pack, number);
    let feeds = panel::feeds(cell.cell.chemistry.rechargeable(), number);
    Scenario {
        pack,
        start,
        draw,
        feeds,
    }
}

fn burst(seconds: f64, watts: f64, what: Use, flash_watts: f64) -> Burst {
    Burst {
        span: Time::from_seconds(seconds),
        power: Power::from_watts(watts),
        what,
        flash: Power::from_watts(flash_watts),
    }
}

fn event(bursts: &[Burst]) -> Event {
    let mut event = Event::default();
    for burst in bursts {
        event.push(*burst).unwrap();
    }
    event
}

fn draw(pack: &Pack, number: usize) -> Draw {
    let fresh = pack.fresh_voltage();
    let cut_off = fresh * nth(&[0.6, 0.7, 0.5], number);
    let flash = nth(&[9.4, 3.5, 0.0, 6.1, 17.6], number);
    let video_s = nth(&[0.0, 10.0, 0.0, 0.0], number);
    Draw {
        standby: Power::from_milliwatts(nth(&[0.6, 2.5, 0.18, 9.0], number)),
        day_trigger: event(&[
            burst(2.0, 1.25, Use::DayPictures, 0.0),
            burst(0.7, 1.3, Use::DayPictures, 0.0),
            burst(video_s, 1.5, Use::Video, 0.0),
        ]),
        night_trigger: event(&[
            burst(2.0, 1.25, Use::NightPictures, 0.0),
            burst(0.25, 1.25, Use::NightPictures, flash),
            burst(video_s, 1.5, Use::Video, 0.55 * flash),
        ]),
        scheduled_per_day: nth(&[1.0, 0.0, 24.0], number),
        quiet: Time::from_seconds(nth(&[0.0, 30.0, 5.0], number)),
        upload: upload(cut_off, number),
        check_in: (number % 5 == 1).then(|| CheckIn {
            per_day: 2.0,
            event: event(&[burst(25.0, 0.55, Use::CheckIn, 0.0)]),
            lowest: cut_off * 1.06,
        }),
        card: (number % 3 == 1).then_some(Card {
            capacity_mb: 8000.0,
            day_trigger_mb: 7.5,
            night_trigger_mb: 4.25,
        }),
        cut_off,
        flash_lowest: cut_off * 1.1,
    }
}

fn upload(cut_off: Voltage, number: usize) -> Option<Upload> {
    let mode = match number % 4 {
        1 => UploadMode::Each,
        2 => UploadMode::Daily { hour: 13 },
        _ => return None,
    };
    Some(Upload {
        mode,
        session: burst(25.0, 0.55, Use::UploadSession, 0.0),
        picture: burst(1.6, 1.6, Use::UploadData, 0.0),
        pictures_per_trigger: 2.0,
        lowest: cut_off * 1.05,
    })
}
