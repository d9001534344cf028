//! What a camera does now and then, and what fails where its supply cannot carry it.

use super::Cause;
use crate::draw::Draw;
use crate::number::Number;
use crate::units::Voltage;

/// The lowest voltages of the pack at which a camera does what it does.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Limits<N = f64> {
    /// At which it works at all: whatever pulls the pack lower switches it off.
    pub cut_off: Voltage<N>,
    /// At which its flash is bright enough.
    pub flash: Voltage<N>,
    /// At which it uploads.
    pub session: Voltage<N>,
    /// At which it reports.
    pub check_in: Voltage<N>,
}

impl Draw {
    /// Those of a camera that draws so; 0 V for what it does not do.
    #[must_use]
    pub fn limits(&self) -> Limits {
        Limits {
            cut_off: self.cut_off,
            flash: self.flash_lowest,
            session: self.upload.as_ref().map_or(Voltage::ZERO, |it| it.lowest),
            check_in: self.check_in.as_ref().map_or(Voltage::ZERO, |it| it.lowest),
        }
    }
}

/// Something that a camera does now and then.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub enum Task {
    /// Answers a trigger by day.
    DayTrigger,
    /// Answers a trigger by night.
    NightTrigger,
    /// Uploads pictures.
    Session,
    /// Reports without a picture.
    CheckIn,
}

impl Task {
    /// What it is if the pack cannot carry it: the cause of death where it pulls the pack under the
    /// camera's cut-off.
    #[cfg_attr(not(target_os = "none"), inline(always))]
    #[must_use]
    pub fn cause(self, draw: &Draw) -> Cause {
        match self {
            Self::NightTrigger if draw.night_trigger.is_lit() => Cause::VoltageUnderFlash,
            Self::DayTrigger | Self::NightTrigger => Cause::VoltageUnderPicture,
            Self::Session | Self::CheckIn => Cause::VoltageUnderUpload,
        }
    }

    /// The voltage of the pack under which it fails; the camera may go on.
    #[cfg_attr(not(target_os = "none"), inline(always))]
    #[must_use]
    pub fn lowest<N: Number>(self, limits: &Limits<N>) -> Voltage<N> {
        match self {
            Self::DayTrigger => limits.cut_off,
            Self::NightTrigger => limits.flash.max(limits.cut_off),
            Self::Session => limits.session,
            Self::CheckIn => limits.check_in,
        }
    }
}
