//! The air, and a panel with the sky over it.

use super::Of;
use crate::harvest::{
    Canopy, Controller, Ground, Horizon, Leaves, Mount, Panel, Plane, Surroundings,
};
use crate::installation::{Air, MonthClearness, Sunlight};
use crate::reader::Reader;
use crate::units::{Power, Temperature, Voltage};
use crate::{MonthNormals, Normals};

#[inline(never)]
pub(super) fn air(reader: &mut Reader<'_>, place: &mut Air) {
    match reader.whole() {
        0 => {
            let air = Temperature::from_kelvin(reader.any());
            reader.check(air.as_celsius(), Of::Air);
            *place = Air::Constant(air);
        }
        1 => {
            *place = Air::Normals(Normals::BLANK);
            if let Air::Normals(read) = place {
                normals(reader, read);
            }
        }
        _ => reader.fail(),
    }
}

#[inline(never)]
fn normals(reader: &mut Reader<'_>, place: &mut Normals) {
    for month in place.months_mut() {
        let MonthNormals {
            mean,
            daily_max,
            daily_min,
        } = month;
        for value in [mean, daily_max, daily_min] {
            *value.si_mut() = reader.any();
        }
    }
    if place.settle().is_err() {
        reader.fail();
    }
}

#[inline(never)]
pub(super) fn sunlight(reader: &mut Reader<'_>, place: &mut Option<Sunlight>) {
    *place = None;
    if !reader.mark() {
        return;
    }
    let Sunlight {
        mount:
            Mount {
                panel: of_panel,
                plane,
                around:
                    Surroundings {
                        horizon,
                        canopy,
                        ground: before,
                        kept_off_by_month,
                    },
                controller: of_controller,
                charged,
            },
        elevation_m,
        clearness,
    } = place.insert(nothing_around());
    panel(reader, of_panel);
    let (tilt, azimuth) = (reader.any(), reader.any());
    reader.keep(plane, Plane::new(tilt, azimuth));
    skyline(reader, horizon);
    trees(reader, canopy);
    ground(reader, before);
    reader.numbers(kept_off_by_month, Of::KeptOff);
    controller(reader, of_controller);
    reader.number(charged.si_mut(), Of::Charged);
    reader.number(elevation_m, Of::Elevation);
    for MonthClearness { mean, sd } in clearness {
        reader.number(mean, Of::Clearness);
        reader.number(sd, Of::ClearnessSpread);
    }
}

/// All but the sky that a flat horizon leaves is zeros, which take no room in a device's flash.
#[inline(always)]
const fn nothing_around() -> Sunlight {
    Sunlight {
        mount: Mount {
            panel: Panel {
                rated: Power::ZERO,
                per_kelvin: 0.0,
                heating_k_per_w_per_m2: 0.0,
                losses: 0.0,
            },
            plane: Plane::LEVEL,
            around: Surroundings {
                horizon: Horizon::flat(),
                canopy: Canopy::NONE,
                ground: const {
                    Ground {
                        bare_albedo: 0.0,
                        snow_albedo: 0.0,
                        snow_by_month: [0.0; 12],
                    }
                },
                kept_off_by_month: const { [0.0; 12] },
            },
            controller: Controller::MaximumPower { efficiency: 0.0 },
            charged: Voltage::ZERO,
        },
        elevation_m: 0.0,
        clearness: const { [MonthClearness { mean: 0.0, sd: 0.0 }; 12] },
    }
}

fn panel(reader: &mut Reader<'_>, place: &mut Panel) {
    let Panel {
        rated,
        per_kelvin,
        heating_k_per_w_per_m2,
        losses,
    } = place;
    reader.number(rated.si_mut(), Of::PanelPower);
    reader.number(per_kelvin, Of::PanelPerK);
    reader.number(heating_k_per_w_per_m2, Of::PanelHeating);
    reader.number(losses, Of::PanelLosses);
}

/// The points of a horizon that is flat yet.
#[inline(never)]
fn skyline(reader: &mut Reader<'_>, place: &mut Horizon) {
    let count = reader.whole();
    let points = (0..count).map(|_| (reader.any(), reader.any()));
    if place.rise(points).is_err() {
        reader.fail();
    }
}

#[inline(never)]
fn trees(reader: &mut Reader<'_>, place: &mut Canopy) {
    let cover = reader.any();
    let leaves = match reader.whole() {
        0 => Leaves::Evergreen,
        1 => Leaves::Deciduous {
            bare_cover: reader.any(),
            out: reader.short(),
            fall: reader.short(),
        },
        _ => return reader.fail(),
    };
    reader.keep(place, Canopy::new(cover, leaves));
}

fn ground(reader: &mut Reader<'_>, place: &mut Ground) {
    let Ground {
        bare_albedo,
        snow_albedo,
        snow_by_month,
    } = place;
    reader.number(bare_albedo, Of::Albedo);
    reader.number(snow_albedo, Of::SnowAlbedo);
    reader.numbers(snow_by_month, Of::Snow);
}

fn controller(reader: &mut Reader<'_>, place: &mut Controller) {
    match reader.whole() {
        0 => {
            let mut efficiency = 0.0;
            reader.number(&mut efficiency, Of::ControllerEfficiency);
            *place = Controller::MaximumPower { efficiency };
        }
        1 => {
            let (mut best, mut diode) = (Voltage::ZERO, Voltage::ZERO);
            reader.number(best.si_mut(), Of::BestVoltage);
            reader.number(diode.si_mut(), Of::Diode);
            *place = Controller::Direct { best, diode };
        }
        _ => reader.fail(),
    }
}
