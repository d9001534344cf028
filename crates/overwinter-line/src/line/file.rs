//! The line file as it stands on disk: every key optional, every value with its place.

use serde::Deserialize;
use toml::Spanned;
use toml::value::Datetime;

pub(super) use super::figures::DrawKeys;
use super::panel::PanelKeys;
use super::section::Keyed;
use super::value::{KeyType, OfFile, Value};

section!(
    /// `[site]`: where the line stands.
    SiteKeys {
        /// Name to print.
        name: String,
        /// Degrees, north positive.
        latitude_deg: f64,
        /// Degrees, east positive.
        longitude_deg: f64,
        /// Local standard time minus UTC, hours.
        utc_offset_h: f64,
        /// EPW or TMY3 file, from the line file's folder.
        weather: String,
        /// `normals` or `hours`.
        weather_use: WeatherUse,
        /// Name of a built-in climate.
        climate: String,
        /// The site's own normals.
        normals: NormalsKeys,
        /// Metres above the sea.
        elevation_m: f64,
        /// Share of each month with snow on the ground, January first.
        snow_cover_pct: Vec<f64>,
    }
);

/// What is done with a weather file.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum WeatherUse {
    /// Reduced to monthly normals.
    #[default]
    Normals,
    /// Replayed hour by hour.
    Hours,
}

section!(
    /// `[site.normals]`: lists have twelve values, January first.
    NormalsKeys {
        /// Monthly mean, °C.
        mean_c: Vec<f64>,
        /// Mean daily maximum, °C.
        daily_max_c: Vec<f64>,
        /// Mean daily minimum, °C.
        daily_min_c: Vec<f64>,
        /// Standard deviation of daily means.
        daily_sd_c: Vec<f64>,
        /// Correlation of a day's mean temperature with that of the day before.
        persistence: f64,
        /// Mean clearness.
        clearness: Vec<f64>,
        /// Standard deviation of daily clearness.
        clearness_sd: Vec<f64>,
        /// Standard deviation of winters' means.
        winters_sd_c: f64,
    }
);

section!(
    /// `[season]`: from when to when.
    SeasonKeys {
        /// First day.
        start: Datetime,
        /// Last day.
        end: Datetime,
    }
);

impl DrawKeys {
    /// The line's keys as a camera's own stand over them: a camera's meter reading puts the line's
    /// power aside, and the other way round.
    pub(super) fn under(&self, own: &Self) -> Self {
        let mut shared = self.clone();
        if own.standby_ua.is_some() {
            shared.standby_mw = None;
        }
        if own.standby_mw.is_some() {
            shared.standby_ua = None;
            shared.meter_v = None;
        }
        shared
    }
}

shared_section!(
    /// `[pack]`: the cells.
    PackKeys {
        /// Name of a cell in the catalogue, or a list of them.
        cell: CellNames,
        /// Cells in series.
        series: i64,
        /// Strings in parallel.
        parallel: i64,
        /// Months on the shelf before they went in.
        stored_months: f64,
        /// Which purchase they are of.
        purchase: String,
    }
);

/// One cell name, or several: a mixed pack, which is refused with the reason.
#[derive(Clone, Debug, PartialEq, Eq, Deserialize)]
#[serde(untagged, expecting = "a cell name such as \"alkaline-aa\"")]
pub(super) enum CellNames {
    /// All cells alike.
    One(String),
    /// Cells of several kinds.
    Several(Vec<String>),
}

shared_section!(
    /// `[activity]`: what passes.
    ActivityKeys {
        /// Triggers a day, whatever set them off.
        triggers_per_day: f64,
        /// `even`, `day`, `night` or `twilight`.
        pattern: String,
        /// Twelve factors on `triggers_per_day`, January first.
        by_month: Vec<f64>,
        /// Twenty-four weights, the hour after midnight first; in place of `pattern`.
        by_hour: Vec<f64>,
        /// The part of the triggers that is false.
        false_share: f64,
        /// Negative binomial's `k` of a day's count.
        dispersion: f64,
        /// The true rate lies within this factor of `triggers_per_day`, two times in three.
        rate_factor: f64,
    }
);

impl ActivityKeys {
    /// The line's keys as a camera's own stand over them: of `pattern` and `by_hour` a camera's own
    /// puts the line's other one aside.
    pub(super) fn under(&self, own: &Self) -> Self {
        let mut shared = self.clone();
        if own.by_hour.is_some() {
            shared.pattern = None;
        }
        if own.pattern.is_some() {
            shared.by_hour = None;
        }
        shared
    }
}

shared_section!(
    /// `[settings]`: what is set in the camera's menu.
    SettingsKeys {
        /// Pictures per trigger.
        shots: i64,
        /// Length of a video per trigger.
        video_s: f64,
        /// Time after a trigger in which the camera does not answer.
        quiet_s: f64,
        /// Power of the light, percent of full; 0 is off.
        flash_pct: f64,
        /// The light is on with the sun below this altitude.
        flash_below_sun_deg: f64,
        /// Pictures a day taken by the clock.
        scheduled_per_day: f64,
        /// `none`, `each` or `daily`.
        upload: String,
        /// Hour of the daily session, 0 to 23.
        upload_hour: i64,
        /// Pictures sent per trigger.
        upload_pictures: f64,
        /// Size of a sent picture.
        upload_mb: f64,
        /// `good`, `fair`, `poor` or `bad`.
        signal: String,
        /// Reports a day without a picture.
        check_ins_per_day: f64,
        /// Room on the memory card.
        card_gb: f64,
    }
);

/// `[prices]`.
#[derive(Clone, Debug, Default, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct PriceKeys {
    /// Currency to print.
    pub(super) currency: Option<Spanned<String>>,
    /// Going round the line once.
    pub(super) visit: Option<Spanned<f64>>,
    /// A panel's price by the watt.
    pub(super) panel_per_w: Option<Spanned<f64>>,
    /// A panel's own store's price by the watt-hour.
    pub(super) store_per_wh: Option<Spanned<f64>>,
    /// Price of one cell, by its name.
    #[serde(default)]
    pub(super) cell: std::collections::BTreeMap<Spanned<String>, Spanned<f64>>,
}

/// `[[camera]]`.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct CameraKeys {
    /// Its name, unlike every other's.
    pub(super) name: Spanned<String>,
    /// Where the lens points: degrees from north through east.
    pub(super) facing_deg: Option<Spanned<f64>>,
    /// Over the line's `[draw]`.
    #[serde(default)]
    pub(super) draw: DrawKeys,
    /// Over the line's `[pack]`.
    #[serde(default)]
    pub(super) pack: PackKeys,
    /// Over the line's `[activity]`.
    #[serde(default)]
    pub(super) activity: ActivityKeys,
    /// Over the line's `[settings]`.
    #[serde(default)]
    pub(super) settings: SettingsKeys,
    /// Over the line's `[panel]`.
    #[serde(default)]
    pub(super) panel: PanelKeys,
}

/// A whole line file.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct LineKeys {
    /// Where.
    pub(super) site: Spanned<SiteKeys>,
    /// When.
    pub(super) season: Spanned<SeasonKeys>,
    /// Defaults of all cameras.
    #[serde(default)]
    pub(super) draw: DrawKeys,
    /// Defaults of all cameras.
    #[serde(default)]
    pub(super) pack: PackKeys,
    /// Defaults of all cameras.
    #[serde(default)]
    pub(super) activity: ActivityKeys,
    /// Defaults of all cameras.
    #[serde(default)]
    pub(super) settings: SettingsKeys,
    /// Defaults of all cameras.
    #[serde(default)]
    pub(super) panel: PanelKeys,
    /// What cells cost.
    #[serde(default)]
    pub(super) prices: PriceKeys,
    /// The cameras.
    #[serde(default)]
    pub(super) camera: Vec<CameraKeys>,
}
