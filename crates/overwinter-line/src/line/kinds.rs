//! Kinds of camera, and the figures that each of them starts from.
//!
//! The figures are built up from component classes, converter losses included, and counted at the
//! pack: data sheets and published measurements where there are any, engineering judgement where
//! not. `datasheets-notes/loads.md` lists them with their sources; none describes one product.

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

/// One figure of a camera's draw: what is usual, and what is accepted.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Figure {
    /// Key in `[draw]`.
    pub key: &'static str,
    /// What it is.
    pub what: &'static str,
    /// Unit to print.
    pub unit: &'static str,
    /// Default.
    pub usual: f64,
    /// The range that cameras of this kind span.
    pub range: (f64, f64),
}

/// Shorthand for the tables below.
const fn figure(
    key: &'static str,
    what: &'static str,
    unit: &'static str,
    usual: f64,
    range: (f64, f64),
) -> Figure {
    Figure {
        key,
        what,
        unit,
        usual,
        range,
    }
}

/// Figures of every camera; standby is that of one without a modem.
const COMMON: [Figure; 14] = [
    figure("standby_mw", "asleep and watching", "mW", 0.6, (0.15, 3.0)),
    figure(
        "first_still_j",
        "waking up and first picture",
        "J",
        2.5,
        (0.8, 6.0),
    ),
    figure(
        "first_still_s",
        "time of the first picture",
        "s",
        2.0,
        (1.0, 10.0),
    ),
    figure("next_still_j", "each further picture", "J", 0.9, (0.3, 2.0)),
    figure(
        "next_still_s",
        "time of a further picture",
        "s",
        0.7,
        (0.3, 1.5),
    ),
    // 8 W of emitters over a driver of 85 %.
    figure("flash_w", "infrared light while lit", "W", 9.4, (3.5, 17.6)),
    figure(
        "first_flash_s",
        "light for the first picture",
        "s",
        0.25,
        (0.05, 1.0),
    ),
    figure(
        "next_flash_s",
        "light for a further picture",
        "s",
        0.1,
        (0.02, 0.3),
    ),
    figure(
        "video_wake_j",
        "waking up for a video",
        "J",
        1.5,
        (0.5, 4.0),
    ),
    figure("video_w", "video without the light", "W", 1.5, (0.8, 2.5)),
    figure(
        "video_flash_w",
        "light during a video",
        "W",
        5.0,
        (2.2, 9.5),
    ),
    // Low end: Remote Camera Survey Guidelines for Western Canada v2 (2024), 0.4 to 0.9 MB. The
    // others from memory: many cameras enlarge what their sensor gives; infrared has no colour.
    figure("picture_mb", "picture on the card", "MB", 2.0, (0.4, 8.0)),
    figure(
        "night_picture_mb",
        "infrared picture on the card",
        "MB",
        1.2,
        (0.3, 5.0),
    ),
    // 4 to 48 Mbit/s, from memory; 16 for full HD.
    figure(
        "video_mb_per_s",
        "video on the card",
        "MB/s",
        2.0,
        (0.5, 6.0),
    ),
];

/// A modem that is off between sessions costs this much more asleep.
const MODEM_STANDBY_MW: f64 = 0.04;

/// LTE Cat-1, powered off between sessions: 15 J for a picture of 0.1 MB, of which 12.9 J/MB are data.
const CAT1: [Figure; 6] = [
    figure(
        "session_j",
        "finding the network and registering",
        "J",
        13.7,
        (6.0, 78.0),
    ),
    figure("session_s", "time of a session", "s", 25.0, (12.0, 90.0)),
    figure(
        "data_j_per_mb",
        "sending a megabyte",
        "J/MB",
        12.9,
        (5.9, 106.0),
    ),
    figure(
        "data_s_per_mb",
        "time of a megabyte",
        "s/MB",
        8.0,
        (4.0, 40.0),
    ),
    figure(
        "check_in_j",
        "report without a picture",
        "J",
        13.7,
        (6.0, 78.0),
    ),
    figure("check_in_s", "time of a report", "s", 25.0, (12.0, 90.0)),
];

/// LTE-M from its power-saving mode: 4 J for a picture of 0.1 MB, of which 21 J/MB are data.
const CATM1: [Figure; 6] = [
    figure(
        "session_j",
        "waking the modem and registering",
        "J",
        1.9,
        (0.65, 12.0),
    ),
    figure("session_s", "time of a session", "s", 22.0, (12.0, 180.0)),
    figure(
        "data_j_per_mb",
        "sending a megabyte",
        "J/MB",
        21.0,
        (8.2, 32.0),
    ),
    figure(
        "data_s_per_mb",
        "time of a megabyte",
        "s/MB",
        44.0,
        (8.0, 60.0),
    ),
    figure(
        "check_in_j",
        "report without a picture",
        "J",
        1.5,
        (0.65, 12.0),
    ),
    figure("check_in_s", "time of a report", "s", 22.0, (1.5, 180.0)),
];

/// The figures that a kind starts from.
pub(super) fn figures(kind: Kind) -> Vec<Figure> {
    let mut figures = COMMON.to_vec();
    match kind {
        Kind::Stills | Kind::Video => {}
        Kind::StillsCat1 => figures.extend(CAT1),
        Kind::StillsCatM1 => figures.extend(CATM1),
    }
    if kind.has_modem()
        && let Some(standby) = figures.iter_mut().find(|f| f.key == "standby_mw")
    {
        standby.usual += MODEM_STANDBY_MW;
    }
    figures
}

/// Share of the supply's nominal voltage at which things stop: common practice, no source.
///
/// On a 12 V input with eight cells these are 0.9, 1.0 and 0.95 V a cell: a camera that is sold for
/// nickel-metal hydride cells too has to work at about that.
pub(super) mod supply {
    /// The camera.
    pub(in crate::line) const CUT_OFF: f64 = 7.2 / 12.0;
    /// The flash.
    pub(in crate::line) const FLASH: f64 = 8.0 / 12.0;
    /// The modem.
    pub(in crate::line) const UPLOAD: f64 = 7.6 / 12.0;
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
