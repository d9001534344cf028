//! What a camera draws, out of its figures and settings.

use overwinter_model::draw::{Burst, Card, CheckIn, Draw, Event, Upload, UploadMode, Use};
use overwinter_model::{Power, Time};

use super::{Figure, Figures, Settings, Supply};

/// The model's draw out of figures and settings.
pub(super) fn draw(values: &Figures<f64>, settings: &Settings, supply: &Supply) -> Draw {
    Draw {
        standby: Power::from_milliwatts(values[Figure::Standby]),
        day_trigger: trigger(values, settings, Use::DayPictures, 0.0),
        night_trigger: trigger(
            values,
            settings,
            Use::NightPictures,
            settings.flash_pct / 100.0,
        ),
        scheduled_per_day: settings.scheduled_per_day,
        quiet: Time::from_seconds(settings.quiet_s),
        upload: settings
            .upload
            .map(|mode| upload(values, settings, supply, mode)),
        check_in: (settings.check_ins_per_day > 0.0).then(|| check_in(values, settings, supply)),
        card: settings.card_gb.map(|gb| card(values, settings, gb)),
        cut_off: supply.cut_off,
        flash_lowest: supply.flash,
    }
}

/// A burst of `span` seconds.
fn burst(span_s: f64, watts: f64, what: Use, flash_w: f64) -> Burst {
    Burst {
        span: Time::from_seconds(span_s),
        power: Power::from_watts(watts),
        what,
        flash: Power::from_watts(flash_w),
    }
}

/// One trigger: pictures, then a video, each as far as they are set.
///
/// The light of a picture stands at the end of its time, after the camera has woken up. Of
/// several further pictures all but the last are taken together, with the light's mean power, and
/// the last with its full power: the voltage is lowest then.
fn trigger(values: &Figures<f64>, settings: &Settings, what: Use, light: f64) -> Event {
    let of = |figure| values[figure];
    let mut event = Event::default();
    let flash_w = of(Figure::Flash) * light;
    let mut add = |burst: Burst| {
        // Six bursts have room and no more than five are ever added.
        let _ = event.push(burst);
    };
    if settings.shots > 0 {
        let watts = of(Figure::FirstStillEnergy) / of(Figure::FirstStillTime);
        let lit_s = of(Figure::FirstFlashTime).min(of(Figure::FirstStillTime));
        add(burst(of(Figure::FirstStillTime) - lit_s, watts, what, 0.0));
        add(burst(lit_s, watts, what, flash_w));
    }
    if settings.shots > 1 {
        let further = f64::from(settings.shots) - 1.0;
        let watts = of(Figure::NextStillEnergy) / of(Figure::NextStillTime);
        let lit_s = of(Figure::NextFlashTime).min(of(Figure::NextStillTime));
        let before_s = further * of(Figure::NextStillTime) - lit_s;
        let mean_flash_w = if before_s > 0.0 {
            flash_w * (further - 1.0) * lit_s / before_s
        } else {
            0.0
        };
        add(burst(before_s, watts, what, mean_flash_w));
        add(burst(lit_s, watts, what, flash_w));
    }
    if settings.video_s > 0.0 {
        if settings.shots == 0 {
            add(burst(1.0, of(Figure::VideoWake), Use::Video, 0.0));
        }
        add(burst(
            settings.video_s,
            of(Figure::Video),
            Use::Video,
            of(Figure::VideoFlash) * light,
        ));
    }
    event
}

fn upload(values: &Figures<f64>, settings: &Settings, supply: &Supply, mode: UploadMode) -> Upload {
    let of = |figure| values[figure];
    let longer = settings.signal.factor();
    let picture_s = of(Figure::DataTime) * settings.upload_mb * longer;
    let session_w = of(Figure::SessionEnergy) / of(Figure::SessionTime);
    let data_w = of(Figure::DataEnergy) / of(Figure::DataTime);
    Upload {
        mode,
        session: burst(
            of(Figure::SessionTime) * longer,
            session_w,
            Use::UploadSession,
            0.0,
        ),
        picture: burst(picture_s, data_w, Use::UploadData, 0.0),
        pictures_per_trigger: settings.upload_pictures,
        lowest: supply.upload,
    }
}

fn check_in(values: &Figures<f64>, settings: &Settings, supply: &Supply) -> CheckIn {
    let of = |figure| values[figure];
    let watts = of(Figure::CheckInEnergy) / of(Figure::CheckInTime);
    let mut event = Event::default();
    // One burst always has room.
    let _ = event.push(burst(
        of(Figure::CheckInTime) * settings.signal.factor(),
        watts,
        Use::CheckIn,
        0.0,
    ));
    CheckIn {
        per_day: settings.check_ins_per_day,
        event,
        lowest: supply.upload,
    }
}

/// A card of `gb` gigabytes, and what a trigger writes on it.
fn card(values: &Figures<f64>, settings: &Settings, gb: f64) -> Card {
    let of = |figure| values[figure];
    let shots = f64::from(settings.shots);
    let video_mb = settings.video_s * of(Figure::VideoSize);
    // A picture by night without the light is as big as one with it: dark, without colour.
    Card {
        capacity_mb: gb * 1000.0,
        day_trigger_mb: shots * of(Figure::Picture) + video_mb,
        night_trigger_mb: shots * of(Figure::NightPicture) + video_mb,
    }
}
