//! One camera where it stands: everything that decides how long it lasts, and the hours that it meets.

mod hours;
mod sunlight;

pub use hours::Hours;
pub use sunlight::{MonthClearness, Sunlight};

use crate::draw::Draw;
use crate::pack::{Pack, PackState};
use crate::season::Scenario;
use crate::units::Temperature;
use crate::{Activity, Day, Normals, Place, Weather};

/// Where the temperatures of a season come from.
#[expect(
    clippy::large_enum_variant,
    reason = "there is no allocator to box the larger one with"
)]
#[derive(Clone, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
pub enum Air {
    /// The same all the time.
    Constant(Temperature),
    /// What the twelve months let expect.
    Normals(Normals),
}

/// Everything that decides how long one camera lasts: the camera, its site and its season.
#[derive(Clone, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
pub struct Installation {
    /// The camera with its cells.
    pub scenario: Scenario,
    /// Where it stands.
    pub place: Place,
    /// What the air does there.
    pub air: Air,
    /// The panel and the sky over it, if there is one.
    pub sunlight: Option<Sunlight>,
    /// What passes.
    pub activity: Activity,
    /// The camera uses its flash with the sun's centre below this height, degrees.
    #[cfg_attr(feature = "serde", serde(with = "crate::decimal"))]
    pub flash_below_sun_deg: f64,
    /// First day of the season, from midnight.
    pub first_day: Day,
    /// How many days it has.
    pub days: u16,
}

impl Installation {
    /// One alkaline cell with nothing left, and a camera that draws nothing, for a day: a place to
    /// decode into.
    ///
    /// A function and no constant, which would take as much of a device's flash as an installation
    /// takes of its memory.
    #[must_use]
    #[inline(always)]
    pub const fn blank() -> Self {
        Self {
            scenario: Scenario {
                pack: Pack::plain(),
                start: PackState::EMPTY,
                draw: Draw::nothing(),
                feeds: None,
            },
            place: Place::ORIGIN,
            air: Air::Constant(Temperature::REFERENCE),
            sunlight: None,
            activity: Activity::none(),
            flash_below_sun_deg: 0.0,
            first_day: Day::from_days_since_2000(0),
            days: 1,
        }
    }

    /// The hours of the season, each made when it is asked for: the same as the expected path of a
    /// line's camera has, to the last bit.
    #[must_use]
    pub fn hours(&self) -> Hours<'_> {
        self.hours_between(0, u32::from(self.days) * 24)
    }

    /// The hours from one of the season to before another; those beyond its end are made like the rest.
    #[must_use]
    pub(crate) const fn hours_between(&self, from: u32, to: u32) -> Hours<'_> {
        Hours::new(self, from, to)
    }

    /// The temperatures of the season.
    #[must_use]
    pub fn weather(&self) -> Weather<'_> {
        match &self.air {
            Air::Constant(air) => Weather::Constant(*air),
            Air::Normals(normals) => Weather::Normals(normals),
        }
    }
}
