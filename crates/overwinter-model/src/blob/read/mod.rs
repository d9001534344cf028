//! Reads an installation part by part to where it is to stay.
//!
//! Read as one value it would stand on the stack several times over, once in each of the values
//! that it is part of: 28 KB, where a small device has 16 in all. The parts are the fields in their
//! order, which is how the format writes a structure, and every value is held against its range as it
//! is read. No field is left out: the patterns name every one.

mod camera;
mod cells;
mod sky;

use super::Quantity as Of;
use crate::installation::Installation;
use crate::reader::Reader;
use crate::season::Scenario;
use crate::units::Time;
use crate::{Day, Place};

/// An installation, into `place`.
pub(super) fn installation(reader: &mut Reader<'_>, place: &mut Installation) {
    let Installation {
        scenario:
            Scenario {
                pack,
                start,
                draw,
                feeds,
            },
        place: stands,
        air,
        sunlight,
        activity,
        flash_below_sun_deg,
        first_day,
        days,
    } = place;
    cells::pack(reader, pack);
    cells::start(reader, start, pack);
    camera::draw(reader, draw);
    camera::feeds(reader, feeds);
    site(reader, stands);
    sky::air(reader, air);
    sky::sunlight(reader, sunlight);
    camera::activity(reader, activity);
    reader.number(flash_below_sun_deg, Of::FlashSun);
    *first_day = Day::from_days_since_2000(reader.signed_whole());
    reader.check(f64::from(first_day.days_since_2000()), Of::FirstDay);
    *days = reader.short();
    reader.check(f64::from(*days), Of::Days);
}

#[inline(never)]
fn site(reader: &mut Reader<'_>, place: &mut Place) {
    let (latitude, longitude) = (reader.any(), reader.any());
    let utc_offset = Time::from_seconds(reader.any());
    reader.keep(place, Place::stored(latitude, longitude, utc_offset));
}
