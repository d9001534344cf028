//! What a blob holds, as a document.

use serde::Serialize;

use crate::answer::document::{IsoDate, Rounded};

/// What a blob holds.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct BlobDocument {
    /// Version of its format.
    pub format_version: u16,
    /// How long it is.
    pub size_bytes: usize,
    /// Checksum of its bytes.
    pub crc32: String,
    /// From when to when.
    pub season: BlobSeason,
    /// Where.
    pub place: PlaceDocument,
    /// How cold it is.
    pub air: AirDocument,
    /// The cells.
    pub cells: CellsDocument,
    /// What the camera takes.
    pub draw: DrawDocument,
    /// What its panel feeds.
    pub feeds: Option<FeedsDocument>,
    /// Its panel.
    pub panel: Option<BlobPanel>,
    /// What passes.
    pub activity: ActivityDocument,
    /// The light is on with the sun below this altitude.
    pub flash_below_sun_deg: f64,
}

/// The days of a season.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
pub struct BlobSeason {
    /// First day.
    pub start: IsoDate,
    /// Last day.
    pub end: IsoDate,
    /// How many.
    pub days: u16,
}

/// A place on the ground.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct PlaceDocument {
    /// North positive.
    pub latitude_deg: f64,
    /// East positive.
    pub longitude_deg: f64,
    /// Of its clock, all year.
    pub utc_offset_h: Rounded<4>,
}

/// Temperatures.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(untagged)]
pub enum AirDocument {
    /// The same always.
    Constant {
        /// It.
        constant_c: Rounded<6>,
    },
    /// Month by month.
    Normals {
        /// January first.
        months: Vec<MonthDocument>,
    },
}

/// A month's temperatures.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct MonthDocument {
    /// Mean.
    pub mean_c: Rounded<6>,
    /// Mean of the days' lowest.
    pub daily_min_c: Rounded<6>,
    /// Mean of the days' highest.
    pub daily_max_c: Rounded<6>,
}

/// The cells of a camera.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct CellsDocument {
    /// As cell files name it.
    pub chemistry: &'static str,
    /// Cells or batteries in series.
    pub series: u8,
    /// Strings.
    pub parallel: u8,
    /// Cells inside each battery.
    pub cells_in_a_case: u8,
    /// Of an ordinary one.
    pub capacity_mah: Rounded<3>,
    /// Of the weakest one of a string.
    pub weakest_capacity_mah: Rounded<3>,
    /// Voltage of them all when fresh.
    pub fresh_v: Rounded<4>,
    /// Share of the charge at the start.
    pub charge_fraction: Rounded<6>,
    /// Time on the shelf.
    pub age_days: Rounded<3>,
}

/// What a camera takes.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct DrawDocument {
    /// Always.
    pub standby_mw: Rounded<6>,
    /// For a trigger by day.
    pub day_trigger: BurstsDocument,
    /// For a trigger by night.
    pub night_trigger: BurstsDocument,
    /// Pictures by the clock.
    pub scheduled_per_day: f64,
    /// Time after a trigger without another.
    pub quiet_s: f64,
    /// What is sent, if anything is.
    pub upload: Option<UploadDocument>,
    /// Reports, if there are any.
    pub check_in: Option<CheckInDocument>,
    /// Room on the card, if it is counted.
    pub card_mb: Option<f64>,
    /// Lowest voltage at which the camera works.
    pub cutoff_v: Rounded<6>,
    /// Lowest at which it lights the flash.
    pub flash_cutoff_v: Rounded<6>,
}

/// What some bursts take together.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct BurstsDocument {
    /// Energy.
    pub energy_j: Rounded<6>,
    /// Time.
    pub length_s: Rounded<6>,
    /// How many.
    pub bursts: usize,
}

/// What is sent.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct UploadDocument {
    /// `each` or `daily`.
    pub mode: &'static str,
    /// The hour of a daily upload.
    pub hour: Option<u8>,
    /// Pictures for each trigger.
    pub pictures_per_trigger: f64,
    /// What one of them takes.
    pub one_picture: BurstsDocument,
    /// Lowest voltage at which the modem works.
    pub cutoff_v: Rounded<6>,
}

/// Reports.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct CheckInDocument {
    /// How many a day.
    pub per_day: f64,
    /// What one takes.
    pub report: BurstsDocument,
    /// Lowest voltage at which the modem works.
    pub cutoff_v: Rounded<6>,
}

/// What a panel feeds.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
#[serde(tag = "what", rename_all = "lowercase")]
pub enum FeedsDocument {
    /// A store of its own.
    Store {
        /// What it holds.
        store_wh: Rounded<6>,
        /// Below which temperature it carries the camera asleep only.
        weak_below_c: Option<Rounded<4>>,
    },
    /// The pack.
    Pack {
        /// How far its temperature lags behind the air's.
        lag_h: Rounded<4>,
    },
}

/// A panel.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct BlobPanel {
    /// Rated power.
    pub panel_w: Rounded<6>,
    /// From the horizontal.
    pub tilt_deg: f64,
    /// From north through east.
    pub azimuth_deg: f64,
    /// Of the site above the sea.
    pub elevation_m: f64,
    /// Mean clearness of each month.
    pub clearness_mean: [f64; 12],
}

/// What passes.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct ActivityDocument {
    /// Of each month.
    pub triggers_per_day: [f64; 12],
    /// As a line file names it.
    pub pattern: &'static str,
    /// Weight of each hour, where they are given.
    pub by_hour: Option<[f64; 24]>,
    /// Share of false ones.
    pub false_share: f64,
    /// How counts of days differ.
    pub dispersion: f64,
    /// How rates of cameras differ.
    pub rate_sd_ln: f64,
}
