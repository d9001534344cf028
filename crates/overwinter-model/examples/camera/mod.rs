//! The camera of the examples, its valley and its winter: all invented.

use overwinter_model::cell::Cell;
use overwinter_model::draw::{Burst, Draw, Event, TooManyBursts, Use};
use overwinter_model::installation::{Air, Installation};
use overwinter_model::pack::Pack;
use overwinter_model::{
    Activity, Day, MonthNormals, Normals, Pattern, Place, Power, Temperature, Time, Voltage,
};

/// Mean temperature of each month, degrees Celsius, January first.
const MONTHS_C: [f64; 12] = [
    -9.0, -7.0, -2.0, 4.0, 9.0, 13.0, 15.0, 14.0, 10.0, 4.0, -3.0, -8.0,
];

/// Two seconds of electronics; the light is on for the last third of a second.
fn picture(what: Use, flash_w: f64) -> Result<Event, TooManyBursts> {
    let mut event = Event::default();
    for (seconds, flash) in [(1.7, 0.0), (0.3, flash_w)] {
        event.push(Burst {
            span: Time::from_seconds(seconds),
            power: Power::from_watts(1.5),
            what,
            flash: Power::from_watts(flash),
        })?;
    }
    Ok(event)
}

/// A camera on eight of these cells, fresh, from 1 November 2026 to the end of April.
pub(crate) fn camera(cell: &Cell) -> Result<Installation, Box<dyn std::error::Error>> {
    let mut camera = Installation::blank();
    camera.place = Place::new(47.0, 11.0, 1.0)?;
    camera.air = Air::Normals(Normals::new(MONTHS_C.map(|celsius| MonthNormals {
        mean: Temperature::from_celsius(celsius),
        daily_max: Temperature::from_celsius(celsius + 5.0),
        daily_min: Temperature::from_celsius(celsius - 5.0),
    }))?);
    camera.activity = Activity::new([12.0; 12], Pattern::Even)?;
    // Civil twilight.
    camera.flash_below_sun_deg = -6.0;
    camera.first_day = Day::from_days_since_2000(9801);
    camera.days = 181;
    camera.scenario.draw = Draw {
        standby: Power::from_milliwatts(1.2),
        day_trigger: picture(Use::DayPictures, 0.0)?,
        night_trigger: picture(Use::NightPictures, 6.0)?,
        cut_off: Voltage::from_volts(8.0),
        flash_lowest: Voltage::from_volts(8.0),
        ..Draw::nothing()
    };
    camera.scenario.pack = Pack::new(cell, 8, 1)?;
    camera.scenario.start = camera.scenario.pack.full();
    Ok(camera)
}
