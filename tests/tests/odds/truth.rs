//! Cameras whose season is drawn and followed without the sampled paths: hour by hour through the plain
//! time loop, with whole triggers at their own hours, every cell of the pack drawn for itself, and other
//! random numbers.

use overwinter::line::{Camera, Line};
use overwinter_model::cell::Cell;
use overwinter_model::draw::{Burst, CheckIn, Event, Upload};
use overwinter_model::pack::Pack;
use overwinter_model::season::{End, Hour, Scenario, run};
use overwinter_model::{Spread, Temperature};

use crate::dice::Dice;

/// What the program takes for the doubt about a camera's draw and about the time on air, of the logarithm.
const POWER_SD_LN: f64 = 0.1;
const AIRTIME_SD_LN: f64 = 0.3;

/// Days to the end of a camera and of its pictures; infinite beyond the season.
pub(crate) fn ends(line: &Line, camera: &Camera, dice: &mut Dice) -> [f64; 2] {
    let scenario = scenario(camera, dice);
    let hours = hours(line, camera, dice);
    let outcome = run(&scenario, hours, 1, |_| {});
    let days = |end: Option<End>| end.map_or(f64::INFINITY, |end| end.after.as_days());
    let dead = days(outcome.dead);
    let lost = days(outcome.night_pictures_lost).min(days(outcome.card_full));
    [dead, dead.min(lost)]
}

/// The camera with the cells, the draw and the signal that it happens to have.
fn scenario(camera: &Camera, dice: &mut Dice) -> Scenario {
    let power = dice.factor(POWER_SD_LN);
    let airtime = dice.factor(AIRTIME_SD_LN);
    let mut draw = camera.draw.clone();
    let burst = |burst: &Burst, longer: f64| Burst {
        span: burst.span * longer,
        power: burst.power * power,
        flash: burst.flash * power,
        ..*burst
    };
    let event = |of: &Event, longer: f64| {
        let mut event = Event::default();
        for of in of.bursts() {
            event
                .push(burst(of, longer))
                .unwrap_or_else(|_| panic!("as many bursts as before"));
        }
        event
    };
    draw.standby = draw.standby * power;
    draw.day_trigger = event(&draw.day_trigger, 1.0);
    draw.night_trigger = event(&draw.night_trigger, 1.0);
    draw.upload = draw.upload.map(|upload| Upload {
        session: burst(&upload.session, airtime),
        picture: burst(&upload.picture, airtime),
        ..upload
    });
    draw.check_in = draw.check_in.map(|check_in| CheckIn {
        event: event(&check_in.event, airtime),
        ..check_in
    });
    let pack = pack(camera, dice);
    Scenario {
        start: pack.full(),
        pack,
        draw,
    }
}

/// A pack of cells that differ: its weakest, and the mean of the others.
fn pack(camera: &Camera, dice: &mut Dice) -> Pack {
    let made = |cell: Cell| {
        let pack = Pack::new(&cell, camera.pack.series, camera.pack.parallel);
        pack.unwrap_or_else(|why| panic!("{why}"))
    };
    let mut cell = camera.pack.cell.cell;
    let usual = made(cell);
    // How many spreads a pack takes its weakest cell to lie below the mean.
    let deviates = (1.0 - usual.weakest().capacity / cell.capacity) / cell.spread;
    let batch = dice.factor(cell.spread / 2.0);
    let cells = (0..camera.pack.series).map(|_| batch * (1.0 + cell.spread * dice.normal()));
    let mut cells: Vec<f64> = cells.collect();
    cells.sort_by(f64::total_cmp);
    let [weakest, others @ ..] = cells.as_slice() else {
        panic!("a pack without cells")
    };
    let ordinary = others.iter().sum::<f64>() / others.len() as f64;
    cell.capacity = cell.capacity * ordinary;
    cell.spread = (1.0 - weakest / ordinary) / deviates;
    made(cell)
}

/// The season as it comes.
fn hours(line: &Line, camera: &Camera, dice: &mut Dice) -> Vec<Hour> {
    let weather = line.climate.weather();
    let mut air = Air::new(line.climate.spread(), dice);
    let counts = camera.activity.counts();
    let rate = dice.factor(counts.rate_sd_ln);
    let mut season = Vec::new();
    for number in 0..line.season.days() {
        let day = line.season.first_day().plus(number);
        let (warmer_k, wider_k) = air.next_day(day.month_index(), dice);
        let course = weather.air_of_day(&line.place, day);
        let below_k = weather.ordinary_minimum_below(day, &course);
        let today = course_of(&course, below_k, warmer_k, wider_k);
        let flash_below = camera.settings.flash_below_sun_deg;
        let rates = camera.activity.rates_of_day(&line.place, day, flash_below);
        let traffic = rate * dice.gamma(counts.dispersion);
        for ((of_day, rate), air_c) in (0..).zip(rates).zip(today) {
            let expected = rate.per_hour * traffic;
            let air = Temperature::from_celsius(air_c);
            season.push(Hour {
                of_day,
                air,
                coldest: air,
                day_triggers: dice.poisson(expected * (1.0 - rate.night_share)),
                night_triggers: dice.poisson(expected * rate.night_share),
                dark_share: rate.dark_share,
            });
        }
    }
    season
}

/// One day's hours, degrees Celsius. The expected `course` is a mean over days whose coldest hours differ;
/// a single day swings so much further that it gets `below_k` colder than that mean. This one is
/// `warmer_k` warmer and its range `wider_k` wider than such a day's.
fn course_of(course: &[Temperature; 24], below_k: f64, warmer_k: f64, wider_k: f64) -> [f64; 24] {
    let course = course.map(Temperature::as_celsius);
    let mean = course.iter().sum::<f64>() / 24.0;
    let lowest = course.iter().copied().fold(f64::MAX, f64::min);
    let highest = course.iter().copied().fold(f64::MIN, f64::max);
    let swing = (mean - lowest + below_k) / (mean - lowest) + wider_k / (highest - lowest);
    course.map(|air_c| mean + warmer_k + (air_c - mean) * swing)
}

/// The anomalies of one season.
struct Air<'a> {
    spread: &'a Spread,
    winter_k: f64,
    /// Of the last day, in standard deviations.
    last: f64,
}

impl<'a> Air<'a> {
    fn new(spread: &'a Spread, dice: &mut Dice) -> Self {
        Self {
            spread,
            winter_k: spread.winters_sd_k() * dice.normal(),
            last: dice.normal(),
        }
    }

    /// How much warmer and wider than expected, kelvin.
    fn next_day(&mut self, month: usize, dice: &mut Dice) -> (f64, f64) {
        let month = self.spread.month(month);
        let kept = month.temperature_lag1;
        self.last = kept * self.last + (1.0 - kept * kept).sqrt() * dice.normal();
        let warmer_k = self.winter_k + self.last * month.temperature_sd_k;
        (warmer_k, month.range_sd_k * dice.normal())
    }
}
