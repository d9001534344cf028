//! Reads an installation part by part to where it is to stay.
//!
//! Read as one value it would stand on the stack several times over, once in each of the values
//! that it is part of: 28 KB, where a small device has 16 in all. The parts are the fields in their
//! order, which is how the format writes a structure.

use heapless::Vec;
use postcard::de_flavors::Slice;
use postcard::{Deserializer, Error};
use serde::Deserialize;

use super::{Air, Installation, MonthClearness, Sunlight};
use crate::draw::Draw;
use crate::harvest::{Controller, Horizon, MOST_POINTS, Mount, Panel, Plane, Surroundings};
use crate::pack::{Pack, PackState};
use crate::season::Scenario;
use crate::units::{Power, Temperature, Voltage};
use crate::{Activity, Day, MonthNormals, Normals, Place, number};

type Reader<'de> = Deserializer<'de, Slice<'de>>;

type Read = postcard::Result<()>;

impl Installation {
    /// One alkaline cell with nothing left, and a camera that draws nothing, for a day: a place to
    /// decode into.
    pub const BLANK: Self = Self {
        scenario: Scenario {
            pack: Pack::PLAIN,
            start: PackState::EMPTY,
            draw: Draw::NOTHING,
            feeds: None,
        },
        place: Place::ORIGIN,
        air: Air::Constant(Temperature::REFERENCE),
        sunlight: None,
        activity: Activity::NONE,
        flash_below_sun_deg: 0.0,
        first_day: Day::from_days_since_2000(0),
        days: 1,
    };
}

/// A part. A function of its own: what one part takes of the stack is free again for the next.
#[inline(never)]
fn part<'de, T: Deserialize<'de>>(reader: &mut Reader<'de>, place: &mut T) -> Read {
    *place = T::deserialize(reader)?;
    Ok(())
}

#[inline(never)]
fn number(reader: &mut Reader<'_>, place: &mut f64) -> Read {
    *place = number::deserialize(reader)?;
    Ok(())
}

/// An installation, into `place`. No field is left out: the patterns name every one.
pub(super) fn installation(reader: &mut Reader<'_>, place: &mut Installation) -> Read {
    let Installation {
        scenario:
            Scenario {
                pack,
                start,
                draw: drawn,
                feeds,
            },
        place: stands,
        air,
        sunlight: panel,
        activity,
        flash_below_sun_deg,
        first_day,
        days,
    } = place;
    cells(reader, pack)?;
    part(reader, start)?;
    draw(reader, drawn)?;
    part(reader, feeds)?;
    part(reader, stands)?;
    weather(reader, air)?;
    sunlight(reader, panel)?;
    part(reader, activity)?;
    number(reader, flash_below_sun_deg)?;
    part(reader, first_day)?;
    part(reader, days)
}

#[inline(never)]
fn cells(reader: &mut Reader<'_>, place: &mut Pack) -> Read {
    let (mut cell, mut series, mut parallel) = (*place.cell(), 0, 0);
    part(reader, &mut cell)?;
    part(reader, &mut series)?;
    part(reader, &mut parallel)?;
    *place = Pack::new(&cell, series, parallel).map_err(|_| Error::SerdeDeCustom)?;
    Ok(())
}

#[inline(never)]
fn weather(reader: &mut Reader<'_>, place: &mut Air) -> Read {
    let mut variant = 0_u32;
    part(reader, &mut variant)?;
    let mut temperature = Temperature::REFERENCE;
    match variant {
        0 => {
            part(reader, &mut temperature)?;
            *place = Air::Constant(temperature);
        }
        1 => {
            let mut months = [MonthNormals {
                mean: temperature,
                daily_max: temperature,
                daily_min: temperature,
            }; 12];
            for month in &mut months {
                part(reader, month)?;
            }
            let normals = Normals::new(months).map_err(|_| Error::SerdeDeCustom)?;
            *place = Air::Normals(normals);
        }
        _ => return Err(Error::DeserializeBadEnum),
    }
    Ok(())
}

fn draw(reader: &mut Reader<'_>, place: &mut Draw) -> Read {
    let Draw {
        standby,
        day_trigger,
        night_trigger,
        scheduled_per_day,
        quiet,
        upload,
        check_in,
        card,
        cut_off,
        flash_lowest,
    } = place;
    part(reader, standby)?;
    part(reader, day_trigger)?;
    part(reader, night_trigger)?;
    number(reader, scheduled_per_day)?;
    part(reader, quiet)?;
    part(reader, upload)?;
    part(reader, check_in)?;
    part(reader, card)?;
    part(reader, cut_off)?;
    part(reader, flash_lowest)
}

#[inline(never)]
fn sunlight(reader: &mut Reader<'_>, place: &mut Option<Sunlight>) -> Read {
    *place = None;
    let mut there = false;
    part(reader, &mut there)?;
    if !there {
        return Ok(());
    }
    let Sunlight {
        mount:
            Mount {
                panel,
                plane,
                around:
                    Surroundings {
                        horizon,
                        canopy,
                        ground,
                        kept_off_by_month,
                    },
                controller,
                charged,
            },
        elevation_m,
        clearness,
    } = place.insert(Sunlight {
        mount: Mount {
            panel: Panel::rated(Power::ZERO),
            plane: Plane::LEVEL,
            around: Surroundings::open(),
            controller: Controller::MaximumPower { efficiency: 0.0 },
            charged: Voltage::ZERO,
        },
        elevation_m: 0.0,
        clearness: [MonthClearness { mean: 0.0, sd: 0.0 }; 12],
    });
    part(reader, panel)?;
    part(reader, plane)?;
    skyline(reader, horizon)?;
    part(reader, canopy)?;
    part(reader, ground)?;
    for kept_off in kept_off_by_month {
        number(reader, kept_off)?;
    }
    part(reader, controller)?;
    part(reader, charged)?;
    number(reader, elevation_m)?;
    for month in clearness {
        part(reader, month)?;
    }
    Ok(())
}

#[inline(never)]
fn skyline(reader: &mut Reader<'_>, place: &mut Horizon) -> Read {
    let mut points = Vec::<_, MOST_POINTS>::new();
    let mut count = 0_u32;
    part(reader, &mut count)?;
    for _ in 0..count {
        let (mut azimuth_deg, mut height_deg) = (0.0, 0.0);
        number(reader, &mut azimuth_deg)?;
        number(reader, &mut height_deg)?;
        let point = (azimuth_deg, height_deg);
        points.push(point).map_err(|_| Error::SerdeDeCustom)?;
    }
    *place = Horizon::new(&points).map_err(|_| Error::SerdeDeCustom)?;
    Ok(())
}
