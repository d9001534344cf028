//! What a panel's own store may give in frost, which the odds do not ask: they count it in watt-hours.

use overwinter_model::cell::{Cell, CellState, Wells};
use overwinter_model::draw::Draw;
use overwinter_model::{Power, Temperature, Time, Voltage};

use crate::keys::plain;
use crate::line::{Camera, Charges, Line, StoreChoice};
use crate::words;

/// Says so where a store that is half full could not carry the camera's heaviest moment on the coldest
/// ordinary day of the season.
pub(crate) fn caution(line: &Line, camera: &Camera) -> Option<String> {
    let panel = camera.panel.as_ref()?;
    if panel.charges(&camera.pack) != Charges::Store {
        return None;
    }
    let at = coldest(line)?;
    let (gives, takes) = (most_given(&panel.store, at), heaviest(&camera.draw));
    (gives < takes).then(|| {
        format!(
            "the odds count the panel's store in watt-hours, as strong in frost as in the warm. Half \
             full at {} (the coldest ordinary day), {} Wh of {} give {:.1} W before the cells are \
             pulled under {} each, and the camera takes {:.1} W at its heaviest: count on the cells in \
             the camera on such nights, or take a bigger store",
            words::temperature(at),
            plain(panel.store.capacity.as_watt_hours()),
            panel.store.cell.name,
            gives.as_watts(),
            words::volts(panel.store.cell.cell.floor),
            takes.as_watts()
        )
    })
}

fn coldest(line: &Line) -> Option<Temperature> {
    let first = line.season.first_day();
    let weather = line.climate.weather();
    let days = (0..line.season.days()).map(|day| weather.of_day(&line.place, first.plus(day)));
    days.map(|air| air.lowest())
        .min_by(|a, b| a.as_kelvin().total_cmp(&b.as_kelvin()))
}

/// The largest power that a half-full store carries for as long as its slow resistance takes.
fn most_given(store: &StoreChoice, at: Temperature) -> Power {
    let cell: &Cell = &store.cell.cell;
    let state = CellState {
        wells: Wells::level(cell.capacity / 2.0, cell.kinetics.available_share),
        polarisation: Voltage::ZERO,
        age: Time::ZERO,
    };
    let circuit = cell.at(at).circuit(&state);
    let room = (circuit.open_circuit - cell.floor).max(Voltage::ZERO);
    let current = room / (circuit.ohmic + circuit.slow);
    let one_wh = (cell.capacity * cell.open_circuit.at(0.5)).as_watt_hours();
    cell.floor * current * (store.capacity.as_watt_hours() / one_wh)
}

/// The camera's largest power.
fn heaviest(draw: &Draw) -> Power {
    let events = [&draw.day_trigger, &draw.night_trigger];
    let check_in = draw.check_in.as_ref().map(|check_in| &check_in.event);
    let bursts = events.into_iter().chain(check_in);
    let bursts = bursts.flat_map(|event| event.bursts());
    let upload = draw.upload.iter();
    let upload = upload.flat_map(|upload| [&upload.session, &upload.picture]);
    let powers = bursts.chain(upload).map(|burst| burst.power + burst.flash);
    powers.fold(draw.standby, Power::max)
}
