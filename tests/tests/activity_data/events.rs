//! The events of the forest cameras, by deployment and whole local day.

use std::collections::BTreeMap;

use overwinter_model::{Day, Time, sun_position};
use overwinter_tests::files::beside_checkout;
use overwinter_tests::tables::{Row, Table};
use time::{Date, Month};

use super::place;

/// What sets a camera off; the rest is the clock's and the keeper's doing.
const TRIGGERS: [&str; 4] = ["animal", "blank", "human", "unknown"];

/// The cameras' clocks stand an hour before UTC all year.
const OFFSET_H: f64 = 1.0;

/// One stay of a camera.
pub(super) struct Deployment {
    pub(super) camera: String,
    first: Day,
    /// Events on each whole day of the stay.
    pub(super) daily: Vec<u32>,
    /// On those days.
    pub(super) events: Vec<Event>,
}

/// Pictures less than two minutes apart.
pub(super) struct Event {
    /// `blank`, or the animal's name.
    pub(super) who: String,
    /// With the sun's centre below the horizon.
    pub(super) by_night: bool,
}

impl Deployment {
    /// Its whole days.
    pub(super) fn days(&self) -> impl Iterator<Item = Day> {
        let first = self.first;
        (0..).take(self.daily.len()).map(move |day| first.plus(day))
    }

    /// `None` without a whole day.
    fn of_row(row: &Row) -> Option<Self> {
        let (start, _) = local(row.text("start"))?;
        let (end, _) = local(row.text("end"))?;
        let days = usize::try_from(end.days_since(start) - 1).ok()?;
        (days > 0).then(|| Self {
            camera: row.text("camera_id").to_owned(),
            first: start.plus(1),
            daily: vec![0; days],
            events: Vec::new(),
        })
    }

    fn take(&mut self, row: &Row) {
        let Some((day, at)) = local(row.text("timestamp")) else {
            return;
        };
        let index = usize::try_from(day.days_since(self.first));
        let count = index.ok().and_then(|index| self.daily.get_mut(index));
        let Some(count) = count else { return };
        *count += 1;
        let kind = row.text("kind");
        let who = if kind == "blank" {
            kind
        } else {
            row.text("species")
        };
        self.events.push(Event {
            who: who.to_owned(),
            by_night: sun_position(&place(), day, at).elevation_deg < 0.0,
        });
    }
}

/// All deployments with whole days, if the files are there.
pub(super) fn deployments() -> Option<Vec<Deployment>> {
    let table = |name| Table::read(&beside_checkout("activity")?.join(name));
    let stays = table("forest-be_deployments.csv")?;
    let events = table("forest-be_events.csv")?;
    let mut deployments: BTreeMap<&str, Deployment> = stays
        .rows
        .iter()
        .filter_map(|row| Some((row.text("deployment_id"), Deployment::of_row(row)?)))
        .collect();
    for row in &events.rows {
        if TRIGGERS.contains(&row.text("kind"))
            && let Some(deployment) = deployments.get_mut(row.text("deployment_id"))
        {
            deployment.take(row);
        }
    }
    Some(deployments.into_values().collect())
}

/// Local day and time of a stamp such as `2018-09-08T13:58:07Z`.
fn local(stamp: &str) -> Option<(Day, Time)> {
    let (date, clock) = stamp.strip_suffix('Z')?.split_once('T')?;
    let [year, month, day] = numbers(date, '-')?;
    let [hours, minutes, seconds] = numbers(clock, ':')?;
    let month = Month::try_from(u8::try_from(month).ok()?).ok()?;
    let date = Date::from_calendar_date(year, month, u8::try_from(day).ok()?).ok()?;
    let hours = f64::from(hours) + f64::from(minutes) / 60.0 + f64::from(seconds) / 3600.0;
    let at = hours + OFFSET_H;
    Some(if at < 24.0 {
        (Day::from(date), Time::from_hours(at))
    } else {
        (Day::from(date).plus(1), Time::from_hours(at - 24.0))
    })
}

fn numbers(text: &str, between: char) -> Option<[i32; 3]> {
    let numbers: Option<Vec<i32>> = text.split(between).map(|part| part.parse().ok()).collect();
    numbers?.try_into().ok()
}
