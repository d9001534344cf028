//! The table of figures: one row for each.

use serde::Deserialize;
use toml::Spanned;

use super::row::{Kinds, Row, Unit, Used, usual};
use crate::line::known::Reading;
use crate::line::section::Keyed;
use crate::line::value::{KeyType, OfFile, Value};

// "Derived" is worked out from figures that were read or remembered, "seen" was read in the source,
// and "from memory" has no source. `datasheets-notes/loads.md` says more of each.
figures! {
    before {
        /// Kind of camera, which gives all the defaults.
        kind: String,
        /// Which model it is, where cameras of a kind are not all of one.
        model: String,
        /// Nominal voltage of the camera's battery input.
        supply_v: f64,
        /// Lowest voltage at which the camera works.
        cutoff_v: Reading,
        /// Lowest voltage at which it lights the flash.
        flash_cutoff_v: Reading,
        /// Lowest voltage at which its modem works.
        upload_cutoff_v: Reading,
        /// Highest voltage that the input stands.
        highest_v: f64,
    }

    /// Power asleep. A modem that is off between sessions takes 0.04 mW more.
    Standby standby_mw or {
        /// Current asleep as a meter shows it, at `meter_v`; in place of the power.
        standby_ua: Reading,
        /// Voltage at which the meter reading was taken.
        meter_v: f64,
    }: Unit::Milliwatts, Used::Always, Kinds::all(usual(
        "asleep and watching", 0.6, (0.15, 3.0),
        "derived: a whole unit without radio",
    )).more_with_modem(0.04);

    /// Energy of waking up, taking the first picture and writing it.
    FirstStillEnergy first_still_j: Unit::Joules, Used::Pictures, Kinds::all(usual(
        "waking up and first picture", 2.5, (0.8, 6.0),
        "derived: first picture by day",
    ));
    /// Time from waking up until the first picture is written.
    FirstStillTime first_still_s: Unit::Seconds, Used::Pictures, Kinds::all(usual(
        "time of the first picture", 2.0, (1.0, 10.0),
        "from memory: waking up until the file is closed; range seen",
    ));
    /// Energy of each further picture of a burst.
    NextStillEnergy next_still_j: Unit::Joules, Used::FurtherPictures, Kinds::all(usual(
        "each further picture", 0.9, (0.3, 2.0),
        "derived",
    ));
    /// Time of each further picture of a burst.
    NextStillTime next_still_s: Unit::Seconds, Used::FurtherPictures, Kinds::all(usual(
        "time of a further picture", 0.7, (0.3, 1.5),
        "from memory",
    ));
    /// Power of the light while it is lit.
    Flash flash_w: Unit::Watts, Used::Pictures, Kinds::all(usual(
        "infrared light while lit", 9.4, (3.5, 17.6),
        "derived: 8 W of emitters; over a driver of 85 %, from memory",
    ));
    /// How long the light is lit for the first picture.
    FirstFlashTime first_flash_s: Unit::Seconds, Used::Pictures, Kinds::all(usual(
        "light for the first picture", 0.25, (0.05, 1.0),
        "from memory: settling included",
    ));
    /// How long the light is lit for each further picture.
    NextFlashTime next_flash_s: Unit::Seconds, Used::FurtherPictures, Kinds::all(usual(
        "light for a further picture", 0.1, (0.02, 0.3),
        "derived: makes 0.9 J into the 1.9 J of a further picture by night",
    ));

    /// Energy of waking up for a video, spread over a second.
    VideoWake video_wake_j: Unit::Joules, Used::VideoAlone, Kinds::all(usual(
        "waking up for a video", 1.5, (0.5, 4.0),
        "from memory; the second is common practice, no source",
    ));
    /// Power of a video, without the light.
    Video video_w: Unit::Watts, Used::Video, Kinds::all(usual(
        "video without the light", 1.5, (0.8, 2.5),
        "from memory: video by day",
    ));
    /// Power of the light during a video.
    VideoFlash video_flash_w: Unit::Watts, Used::Video, Kinds::all(usual(
        "light during a video", 5.0, (2.2, 9.5),
        "derived: video by night less video by day",
    ));

    // LTE Cat-1 is powered off between sessions: 15 J for a picture of 0.1 MB. LTE-M comes out of its
    // power-saving mode: 4 J for such a picture.
    /// Energy of a session before and after the pictures, at a good signal.
    SessionEnergy session_j: Unit::Joules, Used::Upload, Kinds::modem(
        usual("finding the network and registering", 13.7, (6.0, 78.0),
            "derived: 15 J for a picture of 0.1 MB, less its data"),
        usual("waking the modem and registering", 1.9, (0.65, 12.0),
            "derived: 4 J for a picture of 0.1 MB, less its data"),
    );
    /// Time of a session before and after the pictures, at a good signal.
    SessionTime session_s: Unit::Seconds, Used::Upload, Kinds::modem(
        usual("time of a session", 25.0, (12.0, 90.0),
            "derived: 15 s to attach and 10 s of tail"),
        usual("time of a session", 22.0, (12.0, 180.0),
            "seen: wake, exchange and tail on a live network"),
    );
    /// Energy to send a megabyte, at a good signal.
    DataEnergy data_j_per_mb: Unit::JoulesPerMegabyte, Used::Upload, Kinds::modem(
        usual("sending a megabyte", 12.9, (5.9, 106.0),
            "derived: 11 J/MB (5 to 90) over 85 %"),
        usual("sending a megabyte", 21.0, (8.2, 32.0),
            "derived: 18 J/MB (7 to 27) over 85 %"),
    );
    /// Time to send a megabyte, at a good signal.
    DataTime data_s_per_mb: Unit::SecondsPerMegabyte, Used::Upload, Kinds::modem(
        usual("time of a megabyte", 8.0, (4.0, 40.0),
            "derived: 1 Mbit/s (0.2 to 2)"),
        usual("time of a megabyte", 44.0, (8.0, 60.0),
            "derived: 8 Mbit at 180 kbit/s"),
    );
    /// Energy of a report without a picture, at a good signal.
    CheckInEnergy check_in_j: Unit::Joules, Used::CheckIn, Kinds::modem(
        usual("report without a picture", 13.7, (6.0, 78.0),
            "derived: as a session"),
        usual("report without a picture", 1.5, (0.65, 12.0),
            "derived: 1.3 J, seen, over 85 %"),
    );
    /// Time of a report without a picture, at a good signal.
    CheckInTime check_in_s: Unit::Seconds, Used::CheckIn, Kinds::modem(
        usual("time of a report", 25.0, (12.0, 90.0),
            "derived: as a session"),
        usual("time of a report", 22.0, (1.5, 180.0),
            "seen: as a session"),
    );

    /// Size of a picture on the card, by day.
    Picture picture_mb: Unit::Megabytes, Used::PicturesOnCard, Kinds::all(usual(
        "picture on the card", 2.0, (0.4, 8.0),
        "low end: Remote Camera Survey Guidelines for Western Canada v2 (2024), 0.4 to 0.9 MB; the \
         rest from memory: many cameras enlarge what their sensor gives",
    ));
    /// Size of a picture by night, in infrared.
    NightPicture night_picture_mb: Unit::Megabytes, Used::PicturesOnCard, Kinds::all(usual(
        "infrared picture on the card", 1.2, (0.3, 5.0),
        "from memory: infrared has no colour",
    ));
    /// Size of a second of video on the card.
    VideoSize video_mb_per_s: Unit::MegabytesPerSecond, Used::VideoOnCard, Kinds::all(usual(
        "video on the card", 2.0, (0.5, 6.0),
        "from memory: 4 to 48 Mbit/s, 16 for full HD",
    ));
}
