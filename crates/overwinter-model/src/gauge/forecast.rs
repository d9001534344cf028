//! What is left, worked out between other tasks.

use crate::installation::{Hours, Installation};
use crate::season::{Camera, CameraState, End, Ending};
use crate::units::Time;

/// The expected rest of a season, hour by hour: see [`super::Gauge::forecast`].
///
/// It stands on its own: the gauge may go on meanwhile.
#[derive(Clone, Debug)]
pub struct Forecast<'a> {
    camera: Camera<'a>,
    began: Time,
    hours: Hours<'a>,
}

impl<'a> Forecast<'a> {
    pub(super) fn new(
        installation: &'a Installation,
        state: &CameraState,
        next: u32,
        stop: u32,
    ) -> Self {
        Self {
            camera: Camera::resume(&installation.scenario, state),
            began: state.after,
            hours: installation.hours_between(next, stop),
        }
    }

    /// Goes on by so many hours at most. False once there is nothing more to do.
    pub fn advance(&mut self, hours: u32) -> bool {
        for _ in 0..hours {
            if self.is_done() {
                return false;
            }
            if let Some(hour) = self.hours.next() {
                let _ = self.camera.hour(&hour, 1, &mut super::unseen);
            }
        }
        !self.is_done()
    }

    /// Whether the camera has ended, the season is over, or as far as was asked for is reached.
    #[must_use]
    pub fn is_done(&self) -> bool {
        self.hours.is_over() || self.end().is_some()
    }

    /// Hours that the camera goes on from where the gauge stood, as far as the forecast has come: a
    /// lower bound until [`Forecast::is_done`], and after it where nothing has ended.
    #[must_use]
    pub fn hours_left(&self) -> f64 {
        (self.camera.so_far().followed - self.began).as_hours()
    }

    /// Triggers by night in these hours that are expected to be answered with the light they need.
    #[must_use]
    pub fn night_pictures_left(&self) -> f64 {
        self.camera.night_pictures()
    }

    /// How the camera ends, with the time counted from the start of the season; `None` if it goes on.
    #[must_use]
    pub fn end(&self) -> Option<&End> {
        self.camera.so_far().ends[Ending::Camera].as_ref()
    }

    /// The first hour in which the light fails, counted from the start of the season.
    #[must_use]
    pub fn night_pictures_lost(&self) -> Option<&End> {
        self.camera.so_far().ends[Ending::NightPictures].as_ref()
    }
}
