//! What a blob holds, for a person.

use overwinter_line::answer::embed::Embedded;
use overwinter_line::cells::chemistry_name;
use overwinter_line::sky::zone;
use overwinter_line::words;
use overwinter_line::words::plain;
use overwinter_model::draw::{self, Burst, Draw, UploadMode};
use overwinter_model::installation::{Air, Installation, Sunlight};
use overwinter_model::season::{Feeds, Scenario};
use overwinter_model::{Activity, MonthNormals, Place};

use crate::table::{Column, Table};

/// The answer for a person.
#[must_use]
pub fn text(answer: &Embedded) -> String {
    let Installation {
        scenario,
        place,
        air,
        sunlight,
        activity,
        flash_below_sun_deg,
        first_day,
        days,
    } = &answer.holds;
    let last_day = first_day.plus(i32::from(*days) - 1);
    let mut rows = vec![
        (
            "season",
            format!(
                "{} to {} ({})",
                words::date(first_day.date()),
                words::date(last_day.date()),
                words::count(usize::from(*days), "day")
            ),
        ),
        ("place", where_it_is(place)),
        ("air", air_text(air)),
        ("cells", cells_text(scenario)),
    ];
    rows.extend(draw_rows(&scenario.draw));
    rows.push(("panel", panel_text(sunlight.as_ref(), scenario)));
    rows.push((
        "triggers",
        activity_text(activity, answer.document.activity.pattern),
    ));
    let below = plain(*flash_below_sun_deg);
    rows.push(("flash", format!("with the sun below {below}°")));
    let head = [("part", Column::Left), ("what it holds", Column::Left)];
    let parts = Table::of(rows).with(head, |(what, told)| [(*what).to_owned(), told.clone()]);
    format!(
        "Blob of {} bytes, format version {}, checksum {}\n\n{}\n",
        answer.document.size_bytes,
        answer.document.format_version,
        answer.document.crc32,
        parts.text()
    )
}

fn where_it_is(place: &Place) -> String {
    let (latitude, longitude) = (place.latitude_deg(), place.longitude_deg());
    let north = if latitude < 0.0 { "S" } else { "N" };
    let east = if longitude < 0.0 { "W" } else { "E" };
    let zone = zone(place);
    format!(
        "{:.2}° {north} {:.2}° {east}, {zone} all season",
        latitude.abs(),
        longitude.abs()
    )
}

fn air_text(air: &Air) -> String {
    let normals = match air {
        Air::Constant(air) => return format!("always {}", words::temperature(*air)),
        Air::Normals(normals) => normals,
    };
    let mean = |a: &&MonthNormals, b: &&MonthNormals| {
        let (a, b) = (a.mean.as_celsius(), b.mean.as_celsius());
        a.total_cmp(&b)
    };
    let months = normals.months();
    let of = |month: Option<&MonthNormals>| {
        month.map_or_else(String::new, |month| words::temperature(month.mean))
    };
    format!(
        "monthly normals, means from {} to {}",
        of(months.iter().min_by(mean)),
        of(months.iter().max_by(mean))
    )
}

fn cells_text(scenario: &Scenario) -> String {
    let Scenario { pack, start, .. } = scenario;
    let cell = pack.cell();
    let parallel = match pack.parallel() {
        1 => String::new(),
        parallel => format!(" x {parallel}"),
    };
    format!(
        "{}{parallel} x {}, {:.0} mAh, {:.2} V fresh, {:.0} % of the charge in",
        pack.series(),
        chemistry_name(cell.chemistry),
        cell.capacity.as_milliampere_hours(),
        pack.fresh_voltage().as_volts(),
        100.0 * (1.0 - pack.depth(start)),
    )
}

fn draw_rows(draw: &Draw) -> Vec<(&'static str, String)> {
    let mut rows = vec![
        ("standby", format!("{:.3} mW", draw.standby.as_milliwatts())),
        ("by day", bursts_text(draw.day_trigger.bursts())),
        ("by night", bursts_text(draw.night_trigger.bursts())),
        (
            "voltages",
            format!(
                "off under {}, no flash under {}",
                words::volts(draw.cut_off),
                words::volts(draw.flash_lowest)
            ),
        ),
    ];
    if let Some(upload) = &draw.upload {
        let when = match upload.mode {
            UploadMode::Each => "after each trigger".to_owned(),
            UploadMode::Daily { hour } => format!("daily at {hour} h"),
        };
        let picture = bursts_text(upload.event(1.0).bursts());
        rows.push(("uploads", format!("{when}; one picture {picture}")));
    }
    if let Some(check_in) = &draw.check_in {
        let report = bursts_text(check_in.event.bursts());
        let per_day = plain(check_in.per_day);
        rows.push(("reports", format!("{per_day} a day, {report}")));
    }
    if let Some(card) = &draw.card {
        rows.push(("card", format!("{} MB", plain(card.capacity_mb))));
    }
    rows
}

fn bursts_text(bursts: &[Burst]) -> String {
    format!(
        "{:.2} J in {:.1} s",
        draw::energy(bursts).total().as_joules(),
        draw::length(bursts).as_seconds()
    )
}

fn panel_text(sunlight: Option<&Sunlight>, scenario: &Scenario) -> String {
    let Some(sunlight) = sunlight else {
        return "none".to_owned();
    };
    let mount = &sunlight.mount;
    let feeds = match &scenario.feeds {
        None => "feeds nothing".to_owned(),
        Some(Feeds::Pack { .. }) => "charges the pack".to_owned(),
        Some(Feeds::Store(store)) => {
            let weak = store.weak_below.map_or(String::new(), |below| {
                format!(", weak below {}", words::temperature(below))
            });
            format!(
                "charges a store of {:.1} Wh{weak}",
                store.capacity.as_watt_hours()
            )
        }
    };
    format!(
        "{} W, tilted {}°, facing {}°; {feeds}",
        plain(mount.panel.rated.as_watts()),
        plain(mount.plane.tilt_deg()),
        plain(mount.plane.azimuth_deg())
    )
}

fn activity_text(activity: &Activity, pattern: &str) -> String {
    let rates = activity.triggers_per_day();
    let least = rates.iter().copied().fold(f64::INFINITY, f64::min);
    let most = rates.iter().copied().fold(0.0, f64::max);
    let rate = if least < most {
        format!("{least:.1} to {most:.1}")
    } else {
        plain(most)
    };
    let false_pct = 100.0 * activity.counts().false_share;
    format!("{rate} a day, pattern {pattern}, {false_pct:.0} % of them false")
}
