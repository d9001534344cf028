//! What a camera draws, what passes it, and what its panel fills.

use heapless::Vec;

use super::Of;
use crate::draw::{Burst, Card, CheckIn, Draw, Event, Upload, UploadMode, Use};
use crate::harvest::{ChargeLimit, Store};
use crate::reader::Reader;
use crate::season::Feeds;
use crate::units::{Energy, Power, Temperature, Time, Voltage};
use crate::{Activity, Counts, Pattern};

#[inline(never)]
pub(super) fn draw(reader: &mut Reader<'_>, place: &mut Draw) {
    let Draw {
        standby,
        day_trigger,
        night_trigger,
        scheduled_per_day,
        quiet,
        upload: sends,
        check_in: reports,
        card: keeps,
        cut_off,
        flash_lowest,
    } = place;
    reader.number(standby.si_mut(), Of::Standby);
    event(reader, day_trigger);
    event(reader, night_trigger);
    reader.number(scheduled_per_day, Of::ByTheClock);
    reader.number(quiet.si_mut(), Of::Quiet);
    *sends = None;
    if reader.mark() {
        upload(reader, sends.insert(NO_UPLOAD));
    }
    *reports = None;
    if reader.mark() {
        check_in(reader, reports.insert(NO_CHECK_IN));
    }
    *keeps = None;
    if reader.mark() {
        card(reader, keeps.insert(NO_CARD));
    }
    reader.number(cut_off.si_mut(), Of::CutOff);
    reader.number(flash_lowest.si_mut(), Of::LowestForFlash);
}

#[inline(never)]
fn event(reader: &mut Reader<'_>, place: &mut Event) {
    let Event { bursts } = place;
    bursts.clear();
    for _ in 0..reader.whole() {
        let mut next = NO_BURST;
        burst(reader, &mut next);
        if bursts.push(next).is_err() {
            reader.fail();
            return;
        }
    }
}

const NO_BURST: Burst = Burst {
    span: Time::ZERO,
    power: Power::ZERO,
    what: Use::Standby,
    flash: Power::ZERO,
};

#[inline(never)]
fn burst(reader: &mut Reader<'_>, place: &mut Burst) {
    let Burst {
        span,
        power,
        what,
        flash,
    } = place;
    reader.number(span.si_mut(), Of::BurstLength);
    reader.number(power.si_mut(), Of::BurstPower);
    reader.one_of(what, &Use::ALL);
    reader.number(flash.si_mut(), Of::LightPower);
}

const NO_UPLOAD: Upload = Upload {
    mode: UploadMode::Each,
    session: NO_BURST,
    picture: NO_BURST,
    pictures_per_trigger: 0.0,
    lowest: Voltage::ZERO,
};

fn upload(reader: &mut Reader<'_>, place: &mut Upload) {
    let Upload {
        mode,
        session,
        picture,
        pictures_per_trigger,
        lowest,
    } = place;
    match reader.whole() {
        0 => *mode = UploadMode::Each,
        1 => {
            let hour = reader.byte();
            reader.check(f64::from(hour), Of::UploadHour);
            *mode = UploadMode::Daily { hour };
        }
        _ => reader.fail(),
    }
    burst(reader, session);
    burst(reader, picture);
    reader.number(pictures_per_trigger, Of::PicturesSent);
    reader.number(lowest.si_mut(), Of::LowestForUploads);
}

const NO_CHECK_IN: CheckIn = CheckIn {
    per_day: 0.0,
    event: Event { bursts: Vec::new() },
    lowest: Voltage::ZERO,
};

fn check_in(reader: &mut Reader<'_>, place: &mut CheckIn) {
    let CheckIn {
        per_day,
        event: report,
        lowest,
    } = place;
    reader.number(per_day, Of::Reports);
    event(reader, report);
    reader.number(lowest.si_mut(), Of::LowestForReports);
}

const NO_CARD: Card = Card {
    capacity_mb: 0.0,
    day_trigger_mb: 0.0,
    night_trigger_mb: 0.0,
};

fn card(reader: &mut Reader<'_>, place: &mut Card) {
    let Card {
        capacity_mb,
        day_trigger_mb,
        night_trigger_mb,
    } = place;
    reader.number(capacity_mb, Of::CardRoom);
    reader.number(day_trigger_mb, Of::Written);
    reader.number(night_trigger_mb, Of::Written);
}

#[inline(never)]
pub(super) fn feeds(reader: &mut Reader<'_>, place: &mut Option<Feeds>) {
    *place = None;
    if !reader.mark() {
        return;
    }
    match reader.whole() {
        0 => {
            *place = Some(Feeds::Store(NO_STORE));
            if let Some(Feeds::Store(filled)) = place {
                store(reader, filled);
            }
        }
        1 => {
            let mut lag = Time::ZERO;
            reader.number(lag.si_mut(), Of::PackLag);
            *place = Some(Feeds::Pack { lag });
        }
        _ => reader.fail(),
    }
}

const NO_STORE: Store = Store {
    capacity: Energy::ZERO,
    charge_efficiency: 0.0,
    limit: ChargeLimit {
        coldest: None,
        warmest: None,
        highest: None,
    },
    lag: Time::ZERO,
    self_discharge_per_month: 0.0,
    weak_below: None,
};

fn store(reader: &mut Reader<'_>, place: &mut Store) {
    let Store {
        capacity,
        charge_efficiency,
        limit:
            ChargeLimit {
                coldest,
                warmest,
                highest,
            },
        lag,
        self_discharge_per_month,
        weak_below,
    } = place;
    reader.number(capacity.si_mut(), Of::StoreCapacity);
    reader.number(charge_efficiency, Of::StoreEfficiency);
    *coldest = if_any(reader, Of::StoreColdest).map(Temperature::from_kelvin);
    *warmest = if_any(reader, Of::StoreWarmest).map(Temperature::from_kelvin);
    *highest = if_any(reader, Of::StoreCharging).map(Power::from_watts);
    reader.number(lag.si_mut(), Of::StoreLag);
    reader.number(self_discharge_per_month, Of::StoreLoss);
    *weak_below = if_any(reader, Of::StoreWeak).map(Temperature::from_kelvin);
}

#[inline(never)]
fn if_any(reader: &mut Reader<'_>, what: Of) -> Option<f64> {
    reader.mark().then(|| {
        let mut value = 0.0;
        reader.number(&mut value, what);
        value
    })
}

#[inline(never)]
pub(super) fn activity(reader: &mut Reader<'_>, place: &mut Activity) {
    let mut triggers_per_day = [0.0; 12];
    reader.numbers(&mut triggers_per_day, Of::Triggers);
    let pattern = match reader.whole() {
        0 => Pattern::Even,
        1 => Pattern::Day,
        2 => Pattern::Night,
        3 => Pattern::Twilight,
        4 => {
            let mut weights = [0.0; 24];
            for weight in &mut weights {
                *weight = reader.any();
            }
            Pattern::ByHour(weights)
        }
        _ => return reader.fail(),
    };
    let counts = Counts {
        false_share: reader.any(),
        dispersion: reader.any(),
        rate_sd_ln: reader.any(),
    };
    let made = Activity::new(triggers_per_day, pattern);
    reader.keep(place, made.and_then(|made| made.with_counts(counts)));
}
