//! Cameras whose season is drawn and followed without the sampled paths: hour by hour through the plain
//! time loop, with whole triggers at their own hours, every cell of the pack drawn for itself, and other
//! random numbers.

use std::collections::HashMap;

use overwinter_line::line::{Camera, Deviates, Line, Quantity};
use overwinter_model::cell::Cell;
use overwinter_model::draw::{Burst, CheckIn, Event, Upload};
use overwinter_model::pack::Pack;
use overwinter_model::season::{End, Ending, Hour, Scenario, run};
use overwinter_model::{HourRate, Power, Spread, Temperature};

use crate::dice::Dice;

/// What the program takes for the doubt about the time on air, of the logarithm.
const AIRTIME_SD_LN: f64 = 0.3;

/// A camera's season before anything is drawn.
pub(crate) struct Expected<'a> {
    line: &'a Line,
    camera: &'a Camera,
    days: Vec<ExpectedDay>,
}

struct ExpectedDay {
    month: usize,
    /// Hours of the mean over many such days, degrees Celsius.
    course_c: [f64; 24],
    /// A single day gets so much colder than that, kelvin.
    below_k: f64,
    rates: [HourRate; 24],
}

impl<'a> Expected<'a> {
    pub(crate) fn new(line: &'a Line, camera: &'a Camera) -> Self {
        let weather = line.climate.weather();
        let flash_below = camera.settings.flash_below_sun_deg;
        let days = (0..line.season.days()).map(|number| {
            let day = line.season.first_day().plus(number);
            let course = weather.air_of_day(&line.place, day);
            ExpectedDay {
                month: day.month_index(),
                course_c: course.map(Temperature::as_celsius),
                below_k: weather.ordinary_minimum_below(day, &course),
                rates: camera.activity.rates_of_day(&line.place, day, flash_below),
            }
        });
        Self {
            line,
            camera,
            days: days.collect(),
        }
    }

    /// Days to the end of one such camera and to that of its record; infinite beyond the season.
    pub(crate) fn ends(&self, dice: &mut Dice) -> [f64; 2] {
        let scenario = scenario(self.camera, dice);
        let outcome = run(&scenario, self.hours(dice), 1, |_| {});
        let days = |end: Option<End>| end.map_or(f64::INFINITY, |end| end.after.as_days());
        let dead = days(outcome.ends[Ending::Camera]);
        let lost =
            days(outcome.ends[Ending::NightPictures]).min(days(outcome.ends[Ending::CardRoom]));
        [dead, dead.min(lost)]
    }

    /// One season as it comes.
    fn hours(&self, dice: &mut Dice) -> impl Iterator<Item = Hour> {
        let mut air = Air::new(self.line.climate.spread(), dice);
        let counts = self.camera.activity.counts();
        let rate = dice.factor(counts.rate_sd_ln);
        self.days.iter().flat_map(move |day| {
            let today_c = day.as_it_comes(air.next_day(day.month, dice));
            let traffic = rate * dice.gamma(counts.dispersion);
            std::array::from_fn::<_, 24, _>(|hour| {
                let air = Temperature::from_celsius(today_c[hour]);
                let rate = day.rates[hour];
                let expected = rate.per_hour * traffic;
                // Somewhere in the day, since nobody says when.
                let by_clock = dice.poisson(self.camera.draw.scheduled_per_day / 24.0);
                let (clock_by_day, clock_by_night) = if rate.dark_share > 0.5 {
                    (0.0, by_clock)
                } else {
                    (by_clock, 0.0)
                };
                Hour {
                    of_day: hour as u8,
                    air,
                    coldest: air,
                    day_triggers: clock_by_day + dice.poisson(expected * (1.0 - rate.night_share)),
                    night_triggers: clock_by_night + dice.poisson(expected * rate.night_share),
                    dark_share: rate.dark_share,
                    panel: Power::ZERO,
                }
            })
        })
    }
}

impl ExpectedDay {
    /// The hours of a single day, degrees Celsius: it swings further than the mean over many, whose
    /// coldest hours differ. This one is `warmer_k` warmer and its range `wider_k` wider than expected.
    fn as_it_comes(&self, (warmer_k, wider_k): (f64, f64)) -> [f64; 24] {
        let mean = self.course_c.iter().sum::<f64>() / 24.0;
        let lowest = self.course_c.iter().copied().fold(f64::MAX, f64::min);
        let highest = self.course_c.iter().copied().fold(f64::MIN, f64::max);
        let swing = (mean - lowest + self.below_k) / (mean - lowest) + wider_k / (highest - lowest);
        self.course_c
            .map(|air_c| mean + warmer_k + (air_c - mean) * swing)
    }
}

/// The camera with the cells, the draw and the signal that it happens to have: every figure and every
/// cut-off by itself, out of what is said of it.
fn scenario(camera: &Camera, dice: &mut Dice) -> Scenario {
    let deviates: HashMap<u32, Deviates> = Quantity::all()
        .map(|quantity| {
            let [model, unit] = [dice.normal(), dice.normal()];
            (quantity.number(), Deviates { model, unit })
        })
        .collect();
    let mut draw = camera.drawn(|quantity| deviates[&quantity.number()]);
    let airtime = dice.factor(AIRTIME_SD_LN);
    let longer = |burst: &Burst| Burst {
        span: burst.span * airtime,
        ..*burst
    };
    // The clock's pictures are among the triggers of the hours.
    draw.scheduled_per_day = 0.0;
    draw.upload = draw.upload.map(|upload| Upload {
        session: longer(&upload.session),
        picture: longer(&upload.picture),
        ..upload
    });
    draw.check_in = draw.check_in.map(|check_in| {
        let mut event = Event::default();
        for burst in check_in.event.bursts() {
            event
                .push(longer(burst))
                .unwrap_or_else(|_| panic!("as many bursts as before"));
        }
        CheckIn { event, ..check_in }
    });
    let pack = pack(camera, dice);
    Scenario {
        start: pack.full(),
        pack,
        draw,
        feeds: None,
    }
}

/// Makes a cell one of its makes, all but the capacity: the factor on that.
fn made_by(cell: &mut Cell, dice: &mut Dice) -> f64 {
    let makes = cell.makes;
    let [capacity, resistance] = [dice.normal(), dice.normal()];
    let together = makes.correlation;
    let resistance = together * capacity + (1.0 - together * together).sqrt() * resistance;
    let resistance = (makes.resistance * resistance).exp();
    cell.ohmic.fresh = cell.ohmic.fresh * resistance;
    for branch in &mut cell.branches {
        branch.resistor.fresh = branch.resistor.fresh * resistance;
    }
    let more = makes.open_circuit * dice.normal();
    for volts in &mut cell.open_circuit.volts {
        *volts += more.as_volts();
    }
    (makes.capacity * capacity).exp()
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
    let deviates = (1.0 - usual.weakest().capacity() / cell.capacity) / cell.spread;
    let make = made_by(&mut cell, dice);
    let cells = (0..camera.pack.series).map(|_| make * (1.0 + cell.spread * dice.normal()));
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
