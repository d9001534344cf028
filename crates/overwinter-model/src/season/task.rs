//! What a camera does now and then, and what fails where its supply cannot carry it.

use super::Cause;
use crate::draw::Draw;
use crate::units::Voltage;

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
    pub fn lowest(self, draw: &Draw) -> Voltage {
        match self {
            Self::DayTrigger => draw.cut_off,
            Self::NightTrigger => draw.flash_lowest.max(draw.cut_off),
            Self::Session => draw.upload.as_ref().map_or(Voltage::ZERO, |it| it.lowest),
            Self::CheckIn => draw.check_in.as_ref().map_or(Voltage::ZERO, |it| it.lowest),
        }
    }
}
