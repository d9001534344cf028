//! A blob's document out of what the blob holds.

use overwinter_model::blob::{VERSION, checksum};
use overwinter_model::draw::{self, Burst, CheckIn, Draw, Upload, UploadMode};
use overwinter_model::installation::{Air, Installation, Sunlight};
use overwinter_model::season::{Feeds, Scenario};
use overwinter_model::{Activity, MonthNormals, Pattern, Place};

use super::document::{
    ActivityDocument, AirDocument, BlobDocument, BlobPanel, BlobSeason, BurstsDocument,
    CellsDocument, CheckInDocument, DrawDocument, FeedsDocument, MonthDocument, PlaceDocument,
    UploadDocument,
};
use crate::answer::document::{IsoDate, Rounded};
use crate::cells::chemistry_name;

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
        one_picture: bursts(upload.event(1.0).bursts()),
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
