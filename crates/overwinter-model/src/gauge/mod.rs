//! What is left, as the camera itself knows it: the model carried on by what it has seen.
//!
//! A gauge starts as the expected season does. [`Gauge::pass`] moves it on by the season's own hours,
//! with the temperature and the triggers that the camera has counted; [`Gauge::observe`] holds the
//! depth of discharge against a measured voltage, and moves it as far as that is worth: far on a curve
//! that slopes, hardly on a flat one. [`Gauge::forecast`] follows the expected rest of the season in
//! slices. Nothing allocates, nothing is printed, and a restart costs nothing: [`Gauge::save`].
//!
//! ```
//! use overwinter_model::gauge::{self, Answered, Gauge, MOST_SAVED_BYTES, Passed, UnderLoad};
//! use overwinter_model::{Temperature, Voltage, blob, installation};
//! # use overwinter_model::{Activity, Day, Pattern, Place, Power, Time, pack::Pack, season::Scenario};
//! # use overwinter_model::{cell::catalogue::CATALOGUE, draw::{Burst, Draw, Event, Use}};
//! # let cell = &CATALOGUE.iter().find(|entry| entry.name == "alkaline-aa").unwrap().cell;
//! # let pack = Pack::new(cell, 8, 1).unwrap();
//! # let mut picture = Event::default();
//! # picture.push(Burst { span: Time::from_seconds(3.0), power: Power::from_watts(1.0),
//! #     what: Use::NightPictures, flash: Power::from_watts(3.0) }).unwrap();
//! # let draw = Draw { standby: Power::from_milliwatts(2.0), day_trigger: Event::default(),
//! #     night_trigger: picture, scheduled_per_day: 0.0, quiet: Time::ZERO, upload: None,
//! #     check_in: None, card: None, cut_off: Voltage::from_volts(6.0),
//! #     flash_lowest: Voltage::from_volts(7.0) };
//! # let made = installation::Installation {
//! #     scenario: Scenario { start: pack.full(), pack, draw, feeds: None },
//! #     place: Place::new(61.0, 14.0, 1.0).unwrap(),
//! #     air: installation::Air::Constant(Temperature::from_celsius(-5.0)), sunlight: None,
//! #     activity: Activity::new([20.0; 12], Pattern::Night).unwrap(), flash_below_sun_deg: -0.5,
//! #     first_day: Day::from_days_since_2000(9801), days: 166 };
//! # let mut buffer = [0; blob::MOST_BYTES];
//! # let bytes = blob::encode(&made, &mut buffer).unwrap();
//! # let mut slots = [[0xff_u8; MOST_SAVED_BYTES]; 2];
//! # fn other_tasks() {}
//! let installation = blob::decode(bytes)?;
//! let checksum = blob::checksum(bytes);
//! let mut gauge = match gauge::newest(checksum, &slots[0], &slots[1]) {
//!     Some(saved) => Gauge::resume(&installation, checksum, saved)?,
//!     None => Gauge::new(&installation, checksum),
//! };
//! let air = Temperature::from_celsius(-7.5);
//! let answered = Answered { by_day: 1, by_night: 4 };
//! gauge.pass(&Passed { hours: 6, air: Some(air), answered: Some(answered) })?;
//! gauge.observe(air, UnderLoad::Asleep, Voltage::from_volts(12.6))?;
//! let mut forecast = gauge.forecast(24 * 365);
//! while forecast.advance(1) {
//!     other_tasks();
//! }
//! let left = (forecast.hours_left(), forecast.night_pictures_left(), gauge.depth_sd());
//! let slot = gauge.next_slot();
//! gauge.save(&mut slots[slot])?;
//! # assert!(left.0 > 100.0 && left.1 > 10.0 && left.2 < 0.1, "{left:?}");
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```

mod belief;
mod forecast;
mod passed;
mod saved;
mod stream;
mod terminals;
mod weighing;

use core::fmt;

pub use belief::Correction;
pub use forecast::Forecast;
pub use passed::{Answered, Passed};
pub use saved::{MOST_SAVED_BYTES, SavedError, newest};

use belief::{Belief, DRAW_SD};
use passed::Spread;
use saved::Saved;
use terminals::Terminals;
use weighing::Evidence;

use crate::installation::{Hours, Installation};
use crate::range::{LONGEST_SEASON_DAYS, OutOfRange, Quantity, Range};
use crate::season::{Camera, CameraState, Hour, Seen};
use crate::units::{Energy, Power, Temperature, Voltage};

/// No gauge goes on beyond this hour of its season.
const LAST_HOUR: u32 = LONGEST_SEASON_DAYS as u32 * 24;

/// What the pack carries while its voltage is measured.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum UnderLoad {
    /// What the camera draws asleep; nothing as long as a store runs it.
    Asleep,
    /// This power at the pack, all at once: the branches are as they were left by the hour before.
    Power(Power),
}

/// Why the gauge did not take what it was told. It is as it was before.
#[derive(Clone, Copy, Debug, PartialEq)]
#[non_exhaustive]
pub enum GaugeError {
    /// A measured value that cannot be, or is no number.
    OutOfRange(OutOfRange),
    /// More hours than the longest season has.
    TooLate {
        /// The hour of the season that would be reached.
        hour: u64,
        /// The last one.
        last: u32,
    },
}

impl fmt::Display for GaugeError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::OutOfRange(why) => write!(f, "the gauge cannot take this: {why}"),
            Self::TooLate { hour, last } => {
                write!(f, "the gauge cannot go to hour {hour}, only to {last}")
            }
        }
    }
}

impl core::error::Error for GaugeError {}

impl From<OutOfRange> for GaugeError {
    fn from(why: OutOfRange) -> Self {
        Self::OutOfRange(why)
    }
}

/// What a camera knows of its own cells: see the [module](self).
#[derive(Clone, Debug)]
pub struct Gauge<'a> {
    installation: &'a Installation,
    saved: Saved,
}

impl<'a> Gauge<'a> {
    /// At the start of the season. The blob's own [`checksum`](crate::blob::checksum) ties what is
    /// saved to it.
    // Not part of its caller, who would build it beside where it stays.
    #[must_use]
    #[inline(never)]
    pub const fn new(installation: &'a Installation, blob_checksum: u32) -> Self {
        Self {
            installation,
            saved: Saved {
                blob_checksum,
                saves: 0,
                hour: 0,
                camera: CameraState::start(&installation.scenario),
                belief: Belief::START,
            },
        }
    }

    /// Hours since the season began.
    #[must_use]
    pub const fn hour(&self) -> u32 {
        self.saved.hour
    }

    /// Share of the pack's charge that has gone, 0 to 1, as it is believed to be.
    #[must_use]
    pub fn depth(&self) -> f64 {
        let pack = &self.installation.scenario.pack;
        pack.depth(&self.saved.camera.cells)
    }

    /// How sure that is: its standard deviation. 0.29 is that of not knowing at all.
    #[must_use]
    pub const fn depth_sd(&self) -> f64 {
        self.saved.belief.sd
    }

    /// Where the camera stands.
    #[must_use]
    pub const fn state(&self) -> &CameraState {
        &self.saved.camera
    }

    /// Moves on by hours that went by. The camera is alive, so that an end that the model sees in
    /// them is not heeded.
    ///
    /// Where a mean temperature is known, every hour is as much warmer or colder than expected. The
    /// triggers that were answered are spread over the dark and the light of the hours. The work is
    /// that of the hours, and once more that of their days.
    ///
    /// # Errors
    /// [`GaugeError`]; nothing has moved.
    pub fn pass(&mut self, passed: &Passed) -> Result<(), GaugeError> {
        passed.check()?;
        let hour = u64::from(self.saved.hour) + u64::from(passed.hours);
        if hour > u64::from(LAST_HOUR) {
            let last = LAST_HOUR;
            return Err(GaugeError::TooLate { hour, last });
        }
        let spread = self.spread(passed);
        self.follow(passed.hours, &spread);
        Ok(())
    }

    /// Not part of its caller, nor is what follows: hours and a camera on its way are the largest things
    /// on a device's stack.
    #[inline(never)]
    fn follow(&mut self, hours: u32, spread: &Spread) {
        let mut camera = Camera::resume(&self.installation.scenario, &self.saved.camera);
        camera.outlive();
        let mut hours = self.expected(hours);
        // By reference: an hour has copies enough.
        while let Some(hour) = &mut hours.next() {
            spread.change(hour);
            self.step(&mut camera, hour);
        }
        self.saved.camera = camera.state();
    }

    fn expected(&self, hours: u32) -> Hours<'a> {
        let from = self.saved.hour;
        self.installation.hours_between(from, from + hours)
    }

    #[inline(never)]
    fn spread(&self, passed: &Passed) -> Spread {
        let draw = &self.installation.scenario.draw;
        passed.spread(&mut self.expected(passed.hours), draw)
    }

    /// Holds the depth against a voltage of the pack measured now, at this temperature and under this
    /// load. Asleep it says the most. Where a panel charges the pack it has to be dark.
    ///
    /// # Errors
    /// [`GaugeError::OutOfRange`] if a value is no number or cannot be; nothing has moved.
    #[inline(never)]
    pub fn observe(
        &mut self,
        air: Temperature,
        load: UnderLoad,
        voltage: Voltage,
    ) -> Result<Correction, GaugeError> {
        Quantity::MeasuredAir.check(air.as_celsius())?;
        if let UnderLoad::Power(power) = load {
            Quantity::Load.check(power.as_watts())?;
        }
        let fresh = self.installation.scenario.pack.fresh_voltage().as_volts();
        // A pack that powers the camera has some voltage, and none has twice its own.
        let possible = Range::between(0.05 * fresh, 2.0 * fresh);
        Quantity::Voltage.within(voltage.as_volts(), &possible)?;

        let terminals = Terminals::new(self.installation, &self.saved.camera, air, load);
        let evidence = Evidence {
            measured_v: voltage.as_volts() / terminals.cells(),
            meter_var: terminals.meter_var(voltage),
            drop_var: terminals.drop_var(),
            curve: |depth| terminals.volts(depth),
        };
        let before = terminals.depth();
        let (depth, correction) = self.saved.belief.correct(before, &evidence);
        if correction != Correction::Doubted {
            self.saved.camera.cells = terminals.settled(depth);
        }
        Ok(correction)
    }

    /// The expected rest of the season from here, at most so many hours of it, to be advanced in
    /// slices.
    #[must_use]
    #[inline(never)]
    pub fn forecast(&self, most_hours: u32) -> Forecast<'a> {
        let season = u32::from(self.installation.days) * 24;
        let stop = season.min(self.saved.hour.saturating_add(most_hours));
        let Saved { camera, hour, .. } = &self.saved;
        Forecast::new(self.installation, camera, *hour, stop)
    }

    /// One hour as it was.
    fn step(&mut self, camera: &mut Camera<'_>, hour: &Hour) {
        let pack = &self.installation.scenario.pack;
        let before = pack.depth(camera.cells());
        let spilled_before = camera.so_far().ledger.panel.spilled;
        let _ = camera.hour(hour, 1, &mut unseen);
        let moved = pack.depth(camera.cells()) - before;
        let spilled = camera.so_far().ledger.panel.spilled - spilled_before;
        let (error, refused) = (self.error(hour.air), self.refused(spilled));
        self.saved.belief.hour(moved, error, refused);
        self.saved.hour += 1;
    }

    /// The relative error of a change of depth: what is drawn, and the capacity it is a share of.
    fn error(&self, air: Temperature) -> f64 {
        let cell = self.installation.scenario.pack.cell();
        let cold = if air < cell.tested.coldest {
            cell.beyond_points.reach
        } else {
            0.0
        };
        let parts = [DRAW_SD, cell.spread, cell.makes.capacity, cold];
        libm::sqrt(parts.iter().map(|part| part * part).sum())
    }

    /// The depth that a panel would have filled with what a full pack did not take.
    fn refused(&self, spilled: Energy) -> f64 {
        let scenario = &self.installation.scenario;
        let Some(crate::season::Feeds::Pack { .. }) = scenario.feeds else {
            return 0.0;
        };
        let pack = &scenario.pack;
        let all = pack.cell().capacity * pack.fresh_voltage() * f64::from(pack.parallel());
        spilled / all
    }
}

/// Nobody looks at a gauge's steps; the same nobody everywhere, so that there is one copy of the hour.
fn unseen(_: &Seen) {}
