//! What is said of a panel's own store that is too weak in frost for all that its camera does.

use overwinter_model::{Day, Temperature};

use crate::keys::plain;
use crate::line::{Camera, Charges, Line, heaviest};
use crate::words;

/// A store that is weak at this temperature is not weak for the frost.
const WARM: Temperature = Temperature::REFERENCE;

/// Says below which temperature it is, where a day of the season is so cold.
pub(crate) fn caution(line: &Line, camera: &Camera) -> Option<String> {
    let panel = camera.panel.as_ref()?;
    if panel.charges(&camera.pack) != Charges::Store {
        return None;
    }
    let below = panel.store.weak_below(&camera.draw)?;
    let days = colder_days(line, below);
    let when = if below > WARM {
        format!("even at {}", words::temperature(WARM))
    } else {
        format!(
            "below {} ({days} of {} days of an ordinary season get colder)",
            words::temperature(below),
            line.season.days()
        )
    };
    (days > 0).then(|| {
        format!(
            "{when}, {} Wh of {}, half full, cannot give the {:.1} W that the camera takes at its \
             heaviest: the odds let the panel's store run it asleep there, and the cells in the camera \
             carry pictures and uploads. A bigger store is strong in harder frost",
            plain(panel.store.capacity.as_watt_hours()),
            panel.store.cell.name,
            heaviest(&camera.draw).as_watts()
        )
    })
}

/// How many days of the season are colder at their coldest.
fn colder_days(line: &Line, than: Temperature) -> usize {
    let first = line.season.first_day();
    let weather = line.climate.weather();
    let coldest = |day: Day| weather.of_day(&line.place, day).lowest();
    let days = (0..line.season.days()).map(|day| first.plus(day));
    days.filter(|day| coldest(*day) < than).count()
}
