//! Reads an installation part by part to where it is to stay.
//!
//! Read as one value it would stand on the stack several times over, once in each of the values
//! that it is part of: 28 KB, where a small device has 16 in all. The parts are the fields in their
//! order, which is how the format writes a structure.

use postcard::de_flavors::Slice;
use postcard::{Deserializer, Error};
use serde::Deserialize;

use super::{Air, Installation, MonthClearness, Sunlight};
use crate::cell::{Cell, OpenCircuit};
use crate::draw::Draw;
use crate::harvest::{Controller, Horizon, HorizonError, Mount, Panel, Plane, Surroundings};
use crate::pack::{Pack, PackState};
use crate::season::Scenario;
use crate::units::{Power, Temperature, Voltage};
use crate::{Activity, Counts, Day, MonthNormals, Normals, Pattern, Place, number};

type Reader<'de> = Deserializer<'de, Slice<'de>>;

type Read = postcard::Result<()>;

impl Installation {
    /// One alkaline cell with nothing left, and a camera that draws nothing, for a day: a place to
    /// decode into.
    ///
    /// A function and no constant, which would take as much of a device's flash as an installation
    /// takes of its memory.
    #[must_use]
    #[inline(always)]
    pub const fn blank() -> Self {
        Self {
            scenario: Scenario {
                pack: Pack::plain(),
                start: PackState::EMPTY,
                draw: Draw::nothing(),
                feeds: None,
            },
            place: Place::ORIGIN,
            air: Air::Constant(Temperature::REFERENCE),
            sunlight: None,
            activity: Activity::none(),
            flash_below_sun_deg: 0.0,
            first_day: Day::from_days_since_2000(0),
            days: 1,
        }
    }
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

fn numbers(reader: &mut Reader<'_>, places: &mut [f64]) -> Read {
    places
        .iter_mut()
        .try_for_each(|place| number(reader, place))
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
    passes(reader, activity)?;
    number(reader, flash_below_sun_deg)?;
    part(reader, first_day)?;
    part(reader, days)
}

#[inline(never)]
fn cells(reader: &mut Reader<'_>, place: &mut Pack) -> Read {
    let (mut cell, mut series, mut parallel) = (*place.cell(), 0, 0);
    one_cell(reader, &mut cell)?;
    part(reader, &mut series)?;
    part(reader, &mut parallel)?;
    *place = Pack::new(&cell, series, parallel).map_err(|_| Error::SerdeDeCustom)?;
    Ok(())
}

fn one_cell(reader: &mut Reader<'_>, place: &mut Cell) -> Read {
    let Cell {
        chemistry,
        in_series,
        capacity,
        floor,
        open_circuit: OpenCircuit { volts },
        open_circuit_per_k,
        ohmic,
        slow,
        slow_time,
        kinetics,
        kinetics_activation_k,
        storage,
        charging,
        spread,
        grade_spread,
        cold_uncertainty,
        tested,
    } = place;
    part(reader, chemistry)?;
    part(reader, in_series)?;
    part(reader, capacity)?;
    part(reader, floor)?;
    numbers(reader, volts)?;
    number(reader, open_circuit_per_k)?;
    part(reader, ohmic)?;
    part(reader, slow)?;
    part(reader, slow_time)?;
    part(reader, kinetics)?;
    number(reader, kinetics_activation_k)?;
    part(reader, storage)?;
    part(reader, charging)?;
    number(reader, spread)?;
    number(reader, grade_spread)?;
    number(reader, cold_uncertainty)?;
    part(reader, tested)
}

#[inline(never)]
fn passes(reader: &mut Reader<'_>, place: &mut Activity) -> Read {
    let mut triggers_per_day = [0.0; 12];
    numbers(reader, &mut triggers_per_day)?;
    let mut variant = 0_u32;
    part(reader, &mut variant)?;
    let pattern = match variant {
        0 => Pattern::Even,
        1 => Pattern::Day,
        2 => Pattern::Night,
        3 => Pattern::Twilight,
        4 => {
            let mut weights = [0.0; 24];
            numbers(reader, &mut weights)?;
            Pattern::ByHour(weights)
        }
        _ => return Err(Error::DeserializeBadEnum),
    };
    let mut counts = Counts::USUAL;
    part(reader, &mut counts)?;
    *place = Activity::new(triggers_per_day, pattern)
        .and_then(|activity| activity.with_counts(counts))
        .map_err(|_| Error::SerdeDeCustom)?;
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
    numbers(reader, kept_off_by_month)?;
    part(reader, controller)?;
    part(reader, charged)?;
    number(reader, elevation_m)?;
    for month in clearness {
        part(reader, month)?;
    }
    Ok(())
}

/// The points of a horizon that is flat yet.
#[inline(never)]
fn skyline(reader: &mut Reader<'_>, place: &mut Horizon) -> Read {
    let mut count = 0_u32;
    part(reader, &mut count)?;
    let points = (0..count).map(|_| {
        let mut point = (0.0, 0.0);
        number(reader, &mut point.0)?;
        number(reader, &mut point.1)?;
        Ok(point)
    });
    place
        .rise(points)
        .map_err(|Unreadable| Error::SerdeDeCustom)
}

/// Bytes that cannot be read, or that are no horizon.
struct Unreadable;

impl From<Error> for Unreadable {
    fn from(_: Error) -> Self {
        Self
    }
}

impl From<HorizonError> for Unreadable {
    fn from(_: HorizonError) -> Self {
        Self
    }
}
