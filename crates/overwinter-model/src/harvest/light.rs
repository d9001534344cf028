//! Light on the ground, in its parts.

use crate::Irradiance;

/// The light of an hour on open ground.
///
/// `global = diffuse + beam × cos (zenith)` up to what instruments and models leave open.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Light {
    /// All of it, on the horizontal.
    pub global: Irradiance,
    /// Straight from the sun, on a plane that faces it.
    pub beam: Irradiance,
    /// From the rest of the sky, on the horizontal.
    pub diffuse: Irradiance,
}

impl Light {
    /// No light.
    pub const DARK: Self = Self {
        global: Irradiance::ZERO,
        beam: Irradiance::ZERO,
        diffuse: Irradiance::ZERO,
    };

    /// Light without a beam.
    #[must_use]
    pub const fn overcast(global: Irradiance) -> Self {
        Self {
            global,
            beam: Irradiance::ZERO,
            diffuse: global,
        }
    }
}
