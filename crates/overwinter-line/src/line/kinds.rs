//! Kinds of camera, the voltages at which they stop, and strengths of the signal.

/// What a camera can do, which decides its defaults.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Kind {
    /// Pictures on a card.
    Stills,
    /// Pictures and video on a card.
    Video,
    /// Pictures, sent over LTE Cat-1.
    StillsCat1,
    /// Pictures, sent over LTE-M.
    StillsCatM1,
}

impl Kind {
    /// Every kind.
    pub const ALL: [Self; 4] = [
        Self::Stills,
        Self::Video,
        Self::StillsCat1,
        Self::StillsCatM1,
    ];

    /// The name in a line file.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Self::Stills => "stills",
            Self::Video => "video",
            Self::StillsCat1 => "stills-cat1",
            Self::StillsCatM1 => "stills-catm1",
        }
    }

    /// Whether it has a modem.
    #[must_use]
    pub fn has_modem(self) -> bool {
        matches!(self, Self::StillsCat1 | Self::StillsCatM1)
    }
}

/// Share of the supply's nominal voltage at which things stop: common practice, no source.
///
/// On a 12 V input with eight cells these are 0.9, 1.0 and 0.95 V a cell: a camera that is sold for
/// nickel-metal hydride cells too has to work at about that. The ranges are a judgement: a light and a
/// converter may go on to 6 V, and a firmware that spares rechargeable cells stops at 8.4 V, 1.05 V a cell.
pub(super) mod supply {
    use crate::line::Known;

    const fn of_twelve_volts(value: f64, low: f64, high: f64) -> Known {
        Known {
            value: value / 12.0,
            low: low / 12.0,
            high: high / 12.0,
        }
    }

    /// The camera.
    pub(in crate::line) const CUT_OFF: Known = of_twelve_volts(7.2, 6.0, 8.4);
    /// The flash.
    pub(in crate::line) const FLASH: Known = of_twelve_volts(8.0, 6.8, 9.0);
    /// The modem.
    pub(in crate::line) const UPLOAD: Known = of_twelve_volts(7.6, 6.4, 8.7);
    /// The highest that the input stands.
    pub(in crate::line) const HIGHEST: f64 = 15.0 / 12.0;
}

/// Strength of the mobile signal.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Signal {
    /// Above -90 dBm.
    Good,
    /// -90 to -100 dBm.
    Fair,
    /// -100 to -110 dBm.
    Poor,
    /// Below -110 dBm.
    Bad,
}

impl Signal {
    /// Every strength.
    pub const ALL: [Self; 4] = [Self::Good, Self::Fair, Self::Poor, Self::Bad];

    /// The name in a line file.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Self::Good => "good",
            Self::Fair => "fair",
            Self::Poor => "poor",
            Self::Bad => "bad",
        }
    }

    /// How many times longer a session and its data take than at a good signal, failed sends
    /// included: 1, 1.5, 3, 6 for above -90, -100, -110 dBm and below (from memory; ranges 1-2,
    /// 1.5-5 and 3-20).
    #[must_use]
    pub fn factor(self) -> f64 {
        match self {
            Self::Good => 1.0,
            Self::Fair => 1.5,
            Self::Poor => 3.0,
            Self::Bad => 6.0,
        }
    }
}
