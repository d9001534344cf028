//! The cells and what they hold.

use super::Of;
use crate::cell::{
    BeyondPoints, Cell, CellState, Charging, Chemistry, Kinetics, Makes, OpenCircuit, Resistor,
    Specimen, Storage, Tested, Wells,
};
use crate::circuit::Overpotential;
use crate::pack::{Pack, PackState};
use crate::reader::Reader;
use crate::units::{Charge, Current, Temperature, Time, Voltage};

#[inline(never)]
pub(super) fn pack(reader: &mut Reader<'_>, place: &mut Pack) {
    let (of, series, parallel) = place.parts_mut();
    cell(reader, of);
    *series = reader.byte();
    *parallel = reader.byte();
    if place.find_weakest().is_err() {
        reader.fail();
    }
}

fn cell(reader: &mut Reader<'_>, place: &mut Cell) {
    let Cell {
        chemistry,
        in_series,
        capacity,
        floor,
        open_circuit: OpenCircuit { volts },
        open_circuit_per_k,
        ohmic,
        overpotential: Overpotential { most, half_at },
        branches,
        kinetics: Kinetics {
            available_share,
            rate_per_second,
        },
        kinetics_activation_k,
        reach_activation_k,
        storage,
        charging: charged,
        spread,
        makes,
        beyond_points: BeyondPoints { resistance, reach },
        tested: range,
    } = place;
    reader.one_of(chemistry, &Chemistry::ALL);
    *in_series = reader.byte();
    reader.check(f64::from(*in_series), Of::CellsInACase);
    reader.number(capacity.si_mut(), Of::Capacity);
    *floor.si_mut() = reader.any();
    let mut highest = Of::OpenCircuit.range().highest;
    for volts in &mut *volts {
        reader.number_up_to(volts, Of::OpenCircuit, highest);
        highest = *volts;
    }
    let [fresh, ..] = *volts;
    reader.check_up_to(floor.as_volts(), Of::Floor, fresh);
    reader.number(open_circuit_per_k, Of::OpenCircuitPerK);
    resistor(reader, ohmic, Of::Resistance);
    reader.number(most.si_mut(), Of::Overpotential);
    reader.number(half_at.si_mut(), Of::HalfAt);
    for branch in branches {
        resistor(reader, &mut branch.resistor, Of::BranchResistance);
        reader.number(branch.time.si_mut(), Of::BranchTime);
    }
    reader.number(available_share, Of::AvailableShare);
    reader.number(rate_per_second, Of::LevellingRate);
    reader.number(kinetics_activation_k, Of::Activation);
    reader.number(reach_activation_k, Of::Activation);
    stored(reader, storage);
    *charged = None;
    if reader.mark() {
        let how = charged.insert(NOT_CHARGED);
        charging(reader, how);
        check_charging(reader, how, *chemistry, *capacity);
    }
    reader.number(spread, Of::Spread);
    differing(reader, makes);
    reader.number(resistance, Of::BeyondPoints);
    reader.number(reach, Of::BeyondPoints);
    tested(reader, range);
}

fn resistor(reader: &mut Reader<'_>, place: &mut Resistor, of: Of) {
    let Resistor {
        fresh,
        growth,
        late_growth,
        activation_k,
    } = place;
    reader.number(fresh.si_mut(), of);
    reader.number(growth, Of::ResistanceGrowth);
    reader.number(late_growth, Of::LateGrowth);
    reader.number(activation_k, Of::Activation);
}

fn differing(reader: &mut Reader<'_>, place: &mut Makes) {
    let Makes {
        capacity,
        resistance,
        correlation,
        open_circuit,
    } = place;
    reader.number(capacity, Of::MakeSpread);
    reader.number(resistance, Of::MakeSpread);
    reader.number(correlation, Of::MakeCorrelation);
    reader.number(open_circuit.si_mut(), Of::MakeVoltage);
}

fn stored(reader: &mut Reader<'_>, place: &mut Storage) {
    let Storage {
        loss_per_year,
        early_loss,
        early_time,
        activation_k,
        resistance_growth_per_year,
    } = place;
    reader.number(loss_per_year, Of::Loss);
    reader.number(early_loss, Of::EarlyLoss);
    reader.number(early_time.si_mut(), Of::EarlyTime);
    reader.number(activation_k, Of::Activation);
    reader.number(resistance_growth_per_year, Of::GrowthInStorage);
}

const NOT_CHARGED: Charging = Charging {
    efficiency: 0.0,
    coldest: Temperature::from_kelvin(0.0),
    warmest: Temperature::from_kelvin(0.0),
    limit: Voltage::ZERO,
    limit_per_k: 0.0,
    largest: Current::ZERO,
};

fn charging(reader: &mut Reader<'_>, place: &mut Charging) {
    let Charging {
        efficiency,
        coldest,
        warmest,
        limit,
        limit_per_k,
        largest,
    } = place;
    reader.number(efficiency, Of::ChargeEfficiency);
    coldest_and_warmest(reader, coldest, warmest);
    reader.number(limit.si_mut(), Of::ChargingLimit);
    reader.number(limit_per_k, Of::ChargingLimitPerK);
    *largest.si_mut() = reader.any();
}

/// Whether a cell may be charged this fast. A primary cell must not be at all.
fn check_charging(reader: &mut Reader<'_>, how: &Charging, of: Chemistry, capacity: Charge) {
    let largest = how.largest.as_amperes();
    if !of.rechargeable() {
        reader.check(largest, Of::PrimaryCharging);
    }
    reader.check(largest, Of::ChargingCurrent);
    let per_hour = how.largest * Time::from_hours(1.0) / capacity;
    reader.check(per_hour, Of::ChargingRate);
}

fn tested(reader: &mut Reader<'_>, place: &mut Tested) {
    let Tested {
        coldest,
        warmest,
        heaviest,
        heaviest_in_frost,
    } = place;
    coldest_and_warmest(reader, coldest, warmest);
    reader.number(heaviest.si_mut(), Of::TestedCurrent);
    reader.number(heaviest_in_frost.si_mut(), Of::TestedInFrost);
}

#[inline(never)]
fn coldest_and_warmest(
    reader: &mut Reader<'_>,
    coldest: &mut Temperature,
    warmest: &mut Temperature,
) {
    *coldest.si_mut() = reader.any();
    reader.number(warmest.si_mut(), Of::Warmest);
    reader.check_up_to(coldest.as_kelvin(), Of::Coldest, warmest.as_kelvin());
}

#[inline(never)]
pub(super) fn start(reader: &mut Reader<'_>, place: &mut PackState, pack: &Pack) {
    let PackState { ordinary, weakest } = place;
    state(reader, ordinary, pack.cell().specimen());
    state(reader, weakest, pack.weakest());
}

/// What a cell holds: no more than goes in, to rounding.
#[inline(never)]
fn state(reader: &mut Reader<'_>, place: &mut CellState, one: Specimen<'_>) {
    let CellState {
        wells: Wells { available, bound },
        polarisation,
        age,
    } = place;
    let share = one.cell().kinetics.available_share;
    let most = |share| one.capacity().as_coulombs() * share * (1.0 + 1e-9);
    reader.number_up_to(available.si_mut(), Of::Available, most(share));
    reader.number_up_to(bound.si_mut(), Of::Bound, most(1.0 - share));
    for volts in &mut polarisation.0 {
        reader.number(volts.si_mut(), Of::Polarisation);
    }
    reader.number(age.si_mut(), Of::Age);
}
