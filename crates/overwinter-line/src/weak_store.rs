//! What is said of a panel's own store that is too weak in frost for all that its camera does.

use overwinter_model::{Day, Temperature};

use crate::line::{Camera, Charges, Line};
use crate::words::{self, plain};

/// A store that is weak at this temperature is not weak for the frost.
const WARM: Temperature = Temperature::REFERENCE;

/// Below which temperature it is, if a day of an ordinary season is so cold, and how many are.
fn on_days(line: &Line, camera: &Camera) -> Option<(Temperature, usize)> {
    let panel = camera.panel.as_ref()?;
    if panel.charges(&camera.pack) != Charges::Store {
        return None;
    }
    let below = panel.store.cells().weak_below(&camera.draw)?;
    let days = colder_days(line, below);
    (days > 0).then_some((below, days))
}

/// The same in a sentence, for a store of which it is said that it carries the camera.
pub(crate) fn beside(line: &Line, camera: &Camera) -> Option<String> {
    on_days(line, camera).map(|(below, _)| {
        format!(
            "That store is too weak {}: the cells in the camera carry pictures and uploads there.",
            when(below)
        )
    })
}

/// Says so with all that is known of it.
pub(crate) fn caution(line: &Line, camera: &Camera) -> Option<String> {
    let panel = camera.panel.as_ref()?;
    let (below, days) = on_days(line, camera)?;
    Some(format!(
        "{} ({days} of {} days of an ordinary season get so cold), {} Wh of {}, half full, \
         cannot give the {:.1} W that the camera takes at its heaviest: the odds let the panel's store \
         run it asleep there, and the cells in the camera carry pictures and uploads. A bigger store is \
         strong in harder frost",
        when(below),
        line.season.days(),
        plain(panel.store.capacity.as_watt_hours()),
        panel.store.cell.name,
        camera.draw.heaviest().as_watts()
    ))
}

fn when(below: Temperature) -> String {
    if below > WARM {
        format!("even at {}", words::temperature(WARM))
    } else {
        format!("below {}", words::temperature(below))
    }
}

/// How many days of the season are colder at their coldest.
fn colder_days(line: &Line, than: Temperature) -> usize {
    let first = line.season.first_day();
    let weather = line.climate.weather();
    let coldest = |day: Day| weather.of_day(&line.place, day).lowest();
    let days = (0..line.season.days()).map(|day| first.plus(day));
    days.filter(|day| coldest(*day) < than).count()
}
