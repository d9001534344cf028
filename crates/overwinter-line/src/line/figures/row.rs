//! What the table of figures tells of each, and how its rows become Rust.

use crate::line::Settings;
use crate::line::kinds::Kind;

/// Turns the table's rows into [`super::Figure`], what it tells of each figure, and the keys of
/// `[draw]`.
///
/// A row is `Figure key: unit, when it is used, what it is in each kind of camera;`. Keys that say
/// a figure in another way stand in its row as `or { … }`, and `before { … }` has the keys of
/// `[draw]` that are no figures.
macro_rules! figures {
    (
        before { $($before:tt)* }
        $(
            $(#[$doc:meta])*
            $figure:ident $key:ident $(or { $($instead:tt)* })?: $unit:expr, $used:expr, $kinds:expr;
        )*
    ) => {
        /// A figure of a camera's draw, as `[draw]` can give it.
        #[derive(Clone, Copy, Debug, PartialEq, Eq)]
        pub enum Figure {
            $($(#[$doc])* $figure,)*
        }

        impl Figure {
            /// Every figure, in the order of the keys in `[draw]`.
            pub const ALL: [Self; [$(stringify!($key)),*].len()] = [$(Self::$figure),*];

            /// What the table tells of it.
            pub(super) const fn row(self) -> &'static Row {
                match self {
                    $(Self::$figure => const {
                        &Row { key: stringify!($key), unit: $unit, used: $used, kinds: $kinds }
                    },)*
                }
            }
        }

        shared_section!(
            /// `[draw]`: what the camera takes from its pack. Every figure is at the pack.
            DrawKeys {
                $($before)*
                $($(#[$doc])* $key: Reading, $($($instead)*)?)*
            }
        );

        impl DrawKeys {
            /// A figure as it is given; `None` if it is not.
            pub(in crate::line) fn figure(&self, figure: Figure) -> Option<&Spanned<Reading>> {
                match figure {
                    $(Figure::$figure => self.$key.as_ref(),)*
                }
            }
        }
    };
}

/// What the table tells of a figure.
pub(super) struct Row {
    /// Key in `[draw]`.
    pub(super) key: &'static str,
    /// Unit of its values.
    pub(super) unit: Unit,
    /// Which settings give it an effect.
    pub(super) used: Used,
    /// What it is in each kind of camera.
    pub(super) kinds: Kinds,
}

/// Unit of a figure.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Unit {
    /// mW
    Milliwatts,
    /// W
    Watts,
    /// J
    Joules,
    /// J/MB
    JoulesPerMegabyte,
    /// s
    Seconds,
    /// s/MB
    SecondsPerMegabyte,
    /// MB
    Megabytes,
    /// MB/s
    MegabytesPerSecond,
}

impl Unit {
    /// The sign to print.
    #[must_use]
    pub const fn sign(self) -> &'static str {
        match self {
            Self::Milliwatts => "mW",
            Self::Watts => "W",
            Self::Joules => "J",
            Self::JoulesPerMegabyte => "J/MB",
            Self::Seconds => "s",
            Self::SecondsPerMegabyte => "s/MB",
            Self::Megabytes => "MB",
            Self::MegabytesPerSecond => "MB/s",
        }
    }

    /// Whether it measures power or energy.
    #[must_use]
    pub const fn is_of_energy(self) -> bool {
        match self {
            Self::Milliwatts | Self::Watts | Self::Joules | Self::JoulesPerMegabyte => true,
            Self::Seconds
            | Self::SecondsPerMegabyte
            | Self::Megabytes
            | Self::MegabytesPerSecond => false,
        }
    }
}

/// The settings with which a figure has an effect.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Used {
    /// Any.
    Always,
    /// Pictures are taken.
    Pictures,
    /// More than one picture is taken for a trigger.
    FurtherPictures,
    /// A video is taken.
    Video,
    /// A video is taken without a picture before it.
    VideoAlone,
    /// Pictures are sent.
    Upload,
    /// Reports are sent.
    CheckIn,
    /// The card is counted, and pictures are written on it.
    PicturesOnCard,
    /// The card is counted, and videos are written on it.
    VideoOnCard,
}

impl Used {
    /// Whether these settings are among them.
    pub(super) fn with(self, settings: &Settings) -> bool {
        let pictures = settings.shots > 0;
        let video = settings.video_s > 0.0;
        let counts_card = settings.card_gb.is_some();
        match self {
            Self::Always => true,
            Self::Pictures => pictures,
            Self::FurtherPictures => settings.shots > 1,
            Self::Video => video,
            Self::VideoAlone => video && !pictures,
            Self::Upload => settings.upload.is_some(),
            Self::CheckIn => settings.check_ins_per_day > 0.0,
            Self::PicturesOnCard => counts_card && pictures,
            Self::VideoOnCard => counts_card && video,
        }
    }
}

/// What a figure is in cameras of one kind.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Usual {
    /// What it is, in words.
    pub what: &'static str,
    /// What is taken where the line file gives nothing, in the figure's unit.
    pub value: f64,
    /// The range that cameras of the kind span.
    pub range: (f64, f64),
    /// Where value and range come from; `datasheets-notes/loads.md` has more.
    pub source: &'static str,
}

/// Shorthand for the table.
pub(super) const fn usual(
    what: &'static str,
    value: f64,
    range: (f64, f64),
    source: &'static str,
) -> Usual {
    Usual {
        what,
        value,
        range,
        source,
    }
}

/// What a figure is in each kind of camera.
pub(super) struct Kinds {
    /// Without a modem; `None` for a modem's own figures.
    without_modem: Option<Usual>,
    cat1: Usual,
    catm1: Usual,
}

impl Kinds {
    /// The same in every kind.
    pub(super) const fn all(usual: Usual) -> Self {
        Self {
            without_modem: Some(usual),
            cat1: usual,
            catm1: usual,
        }
    }

    /// A figure of the modem.
    pub(super) const fn modem(cat1: Usual, catm1: Usual) -> Self {
        Self {
            without_modem: None,
            cat1,
            catm1,
        }
    }

    /// The same, and `more` of it where there is a modem.
    pub(super) const fn more_with_modem(mut self, more: f64) -> Self {
        self.cat1.value += more;
        self.catm1.value += more;
        self
    }

    /// Whether only cameras with a modem have it.
    pub(super) const fn is_of_modem(&self) -> bool {
        self.without_modem.is_none()
    }

    /// What it is in one kind; `None` if such cameras do not have it.
    pub(super) const fn of(&self, kind: Kind) -> Option<&Usual> {
        match kind {
            Kind::Stills | Kind::Video => self.without_modem.as_ref(),
            Kind::StillsCat1 => Some(&self.cat1),
            Kind::StillsCatM1 => Some(&self.catm1),
        }
    }
}
