//! Panels that bring less than they seem to, and what they charge at its limits.

use overwinter_model::cell::Chemistry;
use overwinter_model::harvest::Controller;
use overwinter_model::{Day, Temperature};

use super::About;
use crate::line::{Camera, Line, PanelChoice};
use crate::words::plain;
use crate::{weak_store, words};

/// Nearer to the equator than this the sun stands on either side (the tropics).
const TROPICS_DEG: f64 = 23.5;

/// A panel flatter than this hardly cares where it faces.
const FLAT_DEG: f64 = 15.0;

/// A panel steeper than this sheds most of its snow: common practice, no source.
const SHEDS_SNOW_DEG: f64 = 45.0;

/// Less than this of the sky's light over the season, and trees or hills are what matters.
const LITTLE_SKY: f64 = 0.4;

/// What looks wrong about a camera's panel.
pub(super) fn panel(line: &Line, camera: &Camera) -> Vec<(&'static str, String)> {
    let Some(panel) = &camera.panel else {
        return Vec::new();
    };
    let about = [
        faces_away(line, panel),
        flat_in_snow(line, panel),
        little_sky(line, panel),
        locked_out(line, camera, panel),
        voltage(camera, panel),
        more_than_taken(camera, panel),
        weak_store::caution(line, camera).map(|caution| ("store-weak-in-frost", caution)),
    ];
    about.into_iter().flatten().collect()
}

fn season_days(line: &Line) -> impl Iterator<Item = Day> {
    let first = line.season.first_day();
    (0..line.season.days()).map(move |day| first.plus(day))
}

/// How many days of the season are so.
fn count_days(line: &Line, is_so: impl Fn(Day) -> bool) -> usize {
    season_days(line).filter(|day| is_so(*day)).count()
}

fn faces_away(line: &Line, panel: &PanelChoice) -> About {
    let latitude = line.place.latitude_deg();
    let equator_deg = if latitude < 0.0 { 0.0 } else { 180.0 };
    let turn = (panel.plane.azimuth_deg() - equator_deg).rem_euclid(360.0);
    let away = turn.min(360.0 - turn) > 90.0;
    (away && latitude.abs() > TROPICS_DEG && panel.plane.tilt_deg() > FLAT_DEG).then(|| {
        let text = format!(
            "the panel faces {:.0}°, away from the equator: in winter the sun hardly reaches it; \
             turn it to {equator_deg:.0}°",
            panel.plane.azimuth_deg()
        );
        ("panel-faces-away", text)
    })
}

fn flat_in_snow(line: &Line, panel: &PanelChoice) -> About {
    let snowy = |day: Day| {
        let air = line.climate.weather().of_day(&line.place, day);
        let cover = line.snow_by_month.get(day.month_index());
        cover.is_some_and(|share| *share >= 0.5) || air.mean() < Temperature::from_celsius(-3.0)
    };
    let unsaid = panel.usual.contains(&"snow_on_panel_pct");
    let flat = panel.plane.tilt_deg() < SHEDS_SNOW_DEG;
    (flat && unsaid && count_days(line, snowy) > 30).then(|| {
        let text = format!(
            "the panel is tilted {:.0}° only, where snow stays for more than a month, and the line \
             file says of none on it: give snow_on_panel_pct, or mount it steeper (60° and more shed \
             snow)",
            panel.plane.tilt_deg()
        );
        ("panel-flat-in-snow", text)
    })
}

fn little_sky(line: &Line, panel: &PanelChoice) -> About {
    let sum: f64 = season_days(line)
        .map(|day| panel.around.on(day).sky_left())
        .sum();
    let mean = sum / f64::from(line.season.days());
    (mean < LITTLE_SKY).then(|| {
        let text = format!(
            "trees and hills leave the panel {:.0} % of the sky's light, mean over the season: a place \
             in the open some metres off is worth more than a bigger panel",
            100.0 * mean
        );
        ("panel-in-the-shade", text)
    })
}

/// What is charged is colder than it may be charged for more than half of the season.
fn locked_out(line: &Line, camera: &Camera, panel: &PanelChoice) -> About {
    let cell = panel.charged_cell(&camera.pack);
    let coldest = cell.cell.charging?.coldest;
    let too_cold = |day| line.climate.weather().of_day(&line.place, day).mean() < coldest;
    let days = count_days(line, too_cold);
    let all = count_days(line, |_| true);
    let harm = match cell.cell.chemistry {
        Chemistry::LithiumIon | Chemistry::LithiumIronPhosphate => {
            "lithium cells that are charged in frost plate lithium, which harms them for good and can \
             end in fire; keep to the cell maker's limits"
        }
        _ => "keep to the cell maker's limits",
    };
    (2 * days > all).then(|| {
        let text = format!(
            "the panel charges {}, which takes nothing below {}, and {days} of {all} days are colder \
             on the mean: {harm}",
            cell.name,
            words::temperature(coldest)
        );
        ("panel-locked-out-by-frost", text)
    })
}

/// A panel without a converter whose voltage is not that of what it charges.
fn voltage(camera: &Camera, panel: &PanelChoice) -> About {
    let Controller::Direct { best, diode } = panel.controller else {
        return None;
    };
    let charged = panel.mount(&camera.pack).charged;
    let (kind, what) = if best < charged + diode {
        ("panel-voltage-too-low", "hardly charges it")
    } else if best > charged * 2.0 {
        ("panel-voltage-wasted", "loses more than half of its power")
    } else {
        return None;
    };
    let text = format!(
        "the panel's {} at its highest power, without a converter, do not suit {}, half full, of what \
         it charges: it {what}",
        words::volts(best),
        words::volts(charged)
    );
    Some((kind, text))
}

fn more_than_taken(camera: &Camera, panel: &PanelChoice) -> About {
    let most = panel.most_taken(&camera.pack)?;
    (panel.panel.rated > most).then(|| {
        let text = format!(
            "the panel of {} W may give more than the {:.1} W that {} may take: the rest is lost, and a \
             controller that does not limit its current harms the cells",
            plain(panel.panel.rated.as_watts()),
            most.as_watts(),
            panel.charged_cell(&camera.pack).name
        );
        ("panel-over-charging-limit", text)
    })
}
