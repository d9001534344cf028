//! What a blob holds, as a document.

use overwinter_model::blob::{Air, Installation, Sunlight, VERSION, checksum};
use overwinter_model::draw::{self, Burst, CheckIn, Draw, Upload, UploadMode};
use overwinter_model::season::{Feeds, Scenario};
use overwinter_model::{Activity, MonthNormals, Pattern, Place};
use serde::Serialize;

use crate::answer::document::{IsoDate, Rounded};
use crate::cells::chemistry_name;

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

/// A blob's document.
pub(super) fn document(bytes: &[u8], holds: &Installation) -> BlobDocument {
    let Installation {
        scenario,
        place,
        air: of_air,
        sunlight,
        activity: of_activity,
        flash_below_sun_deg,
        first_day,
        days,
    } = holds;
    BlobDocument {
        format_version: VERSION,
        size_bytes: bytes.len(),
        crc32: format!("{:08x}", checksum(bytes)),
        season: BlobSeason {
            start: IsoDate(first_day.date()),
            end: IsoDate(first_day.plus(i32::from(*days) - 1).date()),
            days: *days,
        },
        place: place_document(place),
        air: air(of_air),
        cells: cells(scenario),
        draw: draw_document(&scenario.draw),
        feeds: scenario.feeds.as_ref().map(feeds),
        panel: sunlight.as_ref().map(panel),
        activity: activity(of_activity),
        flash_below_sun_deg: *flash_below_sun_deg,
    }
}

fn place_document(place: &Place) -> PlaceDocument {
    PlaceDocument {
        latitude_deg: place.latitude_deg(),
        longitude_deg: place.longitude_deg(),
        utc_offset_h: Rounded(place.utc_offset().as_hours()),
    }
}

fn air(air: &Air) -> AirDocument {
    let month = |month: &MonthNormals| MonthDocument {
        mean_c: Rounded(month.mean.as_celsius()),
        daily_min_c: Rounded(month.daily_min.as_celsius()),
        daily_max_c: Rounded(month.daily_max.as_celsius()),
    };
    match air {
        Air::Constant(air) => AirDocument::Constant {
            constant_c: Rounded(air.as_celsius()),
        },
        Air::Normals(normals) => AirDocument::Normals {
            months: normals.months().iter().map(month).collect(),
        },
    }
}

fn cells(scenario: &Scenario) -> CellsDocument {
    let Scenario { pack, start, .. } = scenario;
    let cell = pack.cell();
    CellsDocument {
        chemistry: chemistry_name(cell.chemistry),
        series: pack.series(),
        parallel: pack.parallel(),
        cells_in_a_case: cell.in_series,
        capacity_mah: Rounded(cell.capacity.as_milliampere_hours()),
        weakest_capacity_mah: Rounded(pack.weakest().capacity().as_milliampere_hours()),
        fresh_v: Rounded(pack.fresh_voltage().as_volts()),
        charge_fraction: Rounded(1.0 - pack.depth(start)),
        age_days: Rounded(start.ordinary.age.as_days()),
    }
}

fn draw_document(draw: &Draw) -> DrawDocument {
    DrawDocument {
        standby_mw: Rounded(draw.standby.as_milliwatts()),
        day_trigger: bursts(draw.day_trigger.bursts()),
        night_trigger: bursts(draw.night_trigger.bursts()),
        scheduled_per_day: draw.scheduled_per_day,
        quiet_s: draw.quiet.as_seconds(),
        upload: draw.upload.as_ref().map(upload),
        check_in: draw.check_in.as_ref().map(check_in),
        card_mb: draw.card.map(|card| card.capacity_mb),
        cutoff_v: Rounded(draw.cut_off.as_volts()),
        flash_cutoff_v: Rounded(draw.flash_lowest.as_volts()),
    }
}

fn bursts(bursts: &[Burst]) -> BurstsDocument {
    BurstsDocument {
        energy_j: Rounded(draw::energy(bursts).total().as_joules()),
        length_s: Rounded(draw::length(bursts).as_seconds()),
        bursts: bursts.len(),
    }
}

fn upload(upload: &Upload) -> UploadDocument {
    let (mode, hour) = match upload.mode {
        UploadMode::Each => ("each", None),
        UploadMode::Daily { hour } => ("daily", Some(hour)),
    };
    UploadDocument {
        mode,
        hour,
        pictures_per_trigger: upload.pictures_per_trigger,
        one_picture: bursts(&upload.bursts(1.0)),
        cutoff_v: Rounded(upload.lowest.as_volts()),
    }
}

fn check_in(check_in: &CheckIn) -> CheckInDocument {
    CheckInDocument {
        per_day: check_in.per_day,
        report: bursts(check_in.event.bursts()),
        cutoff_v: Rounded(check_in.lowest.as_volts()),
    }
}

fn feeds(feeds: &Feeds) -> FeedsDocument {
    match feeds {
        Feeds::Store(store) => FeedsDocument::Store {
            store_wh: Rounded(store.capacity.as_watt_hours()),
            weak_below_c: store.weak_below.map(|below| Rounded(below.as_celsius())),
        },
        Feeds::Pack { lag } => FeedsDocument::Pack {
            lag_h: Rounded(lag.as_hours()),
        },
    }
}

fn panel(sunlight: &Sunlight) -> BlobPanel {
    let mount = &sunlight.mount;
    BlobPanel {
        panel_w: Rounded(mount.panel.rated.as_watts()),
        tilt_deg: mount.plane.tilt_deg(),
        azimuth_deg: mount.plane.azimuth_deg(),
        elevation_m: sunlight.elevation_m,
        clearness_mean: sunlight.clearness.map(|month| month.mean),
    }
}

fn activity(activity: &Activity) -> ActivityDocument {
    let counts = activity.counts();
    ActivityDocument {
        triggers_per_day: *activity.triggers_per_day(),
        pattern: match activity.pattern() {
            Pattern::Even => "even",
            Pattern::Day => "day",
            Pattern::Night => "night",
            Pattern::Twilight => "twilight",
            Pattern::ByHour(_) => "by-hour",
        },
        by_hour: match activity.pattern() {
            Pattern::ByHour(weights) => Some(*weights),
            _ => None,
        },
        false_share: counts.false_share,
        dispersion: counts.dispersion,
        rate_sd_ln: counts.rate_sd_ln,
    }
}
