//! From a camera's keys to what the model runs.

use overwinter_model::Voltage;
use overwinter_model::draw::UploadMode;
use toml::Spanned;

use super::activity;
use super::cell_files::CellFiles;
use super::draws::draw;
use super::figures::{self, Figure, Figures};
use super::file::{ActivityKeys, CameraKeys, CellNames, DrawKeys, PackKeys, SettingsKeys};
use super::kinds::{Kind, Signal, supply};
use super::known::{self, Known, Reading};
use super::modem;
use super::panel::{self, PanelKeys, Standing};
use super::{Assumed, Camera, Limits, PackChoice, Settings, Supply};
use crate::cells::SharedCell;
use crate::keys::Reader;
use crate::problem::Problem;

/// Ranges that a value in a line file must keep to. They are wide: what is merely unusual is
/// `check`'s business.
mod accepted {
    use std::ops::RangeInclusive;

    pub(super) const SUPPLY_V: RangeInclusive<f64> = 1.0..=60.0;
    pub(super) const METER_UA: RangeInclusive<f64> = 0.1..=1e6;
    pub(super) const PER_DAY: RangeInclusive<f64> = 0.0..=288.0;
    pub(super) const CARD_GB: RangeInclusive<f64> = 0.01..=4096.0;
}

/// The keys of one camera, its own over the line's.
pub(super) struct Merged {
    pub(super) draw: DrawKeys,
    pub(super) pack: PackKeys,
    pub(super) activity: ActivityKeys,
    pub(super) settings: SettingsKeys,
    pub(super) panel: PanelKeys,
}

/// Reads one camera.
pub(super) fn read(
    reader: &mut Reader,
    keys: &CameraKeys,
    merged: &Merged,
    own: &CellFiles,
    standing: &Standing,
) -> Option<Camera> {
    let kinds = Kind::ALL.map(|kind| (kind.name(), kind));
    let kind = reader.choice(merged.draw.kind.as_ref(), "kind", &kinds, Kind::Stills);
    if !kind.has_modem() {
        modem::refuse(reader, merged, kind);
    }
    let facing_deg = keys
        .facing_deg
        .as_ref()
        .map(|facing| reader.number(Some(facing), "facing_deg", 0.0..=360.0, 0.0));
    let (supply, limits) = read_supply(reader, &merged.draw);
    let assumed = read_figures(reader, &merged.draw, kind, &supply);
    let settings = read_settings(reader, &merged.settings, kind);
    let activity = activity::read(reader, &merged.activity, keys.name.span());
    let pack = read_pack(reader, &merged.pack, &supply, keys.name.span(), own);
    let pack = pack?;
    let panel = panel::read(
        reader,
        &merged.panel,
        standing,
        &pack,
        own,
        keys.name.span(),
    );
    let draw = draw(&assumed.values(), &settings, &supply);
    let model = merged.draw.model.as_ref();
    let model = model.map(|label| reader.printed(label, "model", LONGEST_LABEL));
    Some(Camera {
        name: keys.name.get_ref().clone(),
        facing_deg,
        kind,
        pack,
        draw,
        model: model.unwrap_or_else(|| kind.name().to_owned()),
        limits,
        activity: activity?,
        supply,
        settings,
        assumed,
        panel,
    })
}

/// A value that is given is good to what a hand-held meter is (judgement): a current or a power to a
/// twentieth, a voltage to a hundredth.
const METER_GOOD_TO: f64 = 0.05;
const VOLTMETER_GOOD_TO: f64 = 0.01;

/// Reads the battery input: the voltages that are taken, and how well those are known at which things stop.
fn read_supply(reader: &mut Reader, keys: &DrawKeys) -> (Supply, Limits) {
    let nominal = reader.number(keys.supply_v.as_ref(), "supply_v", accepted::SUPPLY_V, 12.0);
    let range = 0.1..=*accepted::SUPPLY_V.end();
    let mut limit = |given: Option<&Spanned<Reading>>, key, share: Known| {
        let usual = share.times(nominal);
        given.map_or(usual, |given| {
            known::read(reader, given, key, range.clone(), usual, VOLTMETER_GOOD_TO)
        })
    };
    let limits = Limits {
        cut_off: limit(keys.cutoff_v.as_ref(), "cutoff_v", supply::CUT_OFF),
        flash: limit(
            keys.flash_cutoff_v.as_ref(),
            "flash_cutoff_v",
            supply::FLASH,
        ),
        upload: limit(
            keys.upload_cutoff_v.as_ref(),
            "upload_cutoff_v",
            supply::UPLOAD,
        ),
    };
    let highest = nominal * supply::HIGHEST;
    let highest = reader.number(keys.highest_v.as_ref(), "highest_v", range, highest);
    let highest = Voltage::from_volts(highest);
    let volts = |known: Known| Voltage::from_volts(known.value);
    let cut_off = volts(limits.cut_off);
    if let Some(given) = &keys.cutoff_v
        && cut_off >= highest
    {
        reader.problem(Problem::at(
            given.span(),
            "`cutoff_v` is not below `highest_v`: the camera would never run",
            format!(
                "expected below {} V",
                crate::words::plain(highest.as_volts())
            ),
        ));
    }
    let supply = Supply {
        nominal: Voltage::from_volts(nominal),
        cut_off,
        flash: volts(limits.flash),
        upload: volts(limits.upload),
        highest,
    };
    (supply, limits)
}

/// Every figure of the draw, given or usual, and the meter reading in place of `standby_mw`.
fn read_figures(
    reader: &mut Reader,
    keys: &DrawKeys,
    kind: Kind,
    supply: &Supply,
) -> Figures<Assumed> {
    let mut assumed = Figures::usual(kind);
    for (figure, usual) in Figure::of(kind) {
        if let Some(given) = keys.figure(figure) {
            let (key, range) = (figure.key(), figures::ACCEPTED);
            let known = known::read(reader, given, key, range, usual.known(), METER_GOOD_TO);
            assumed[figure] = Assumed::given(known);
        }
    }
    match (&keys.standby_ua, &keys.meter_v) {
        (Some(reading), _) => {
            let milliwatts = read_meter(reader, keys, reading, supply);
            assumed[Figure::Standby] = Assumed::given(milliwatts);
        }
        (None, Some(volts)) => reader.problem(Problem::at(
            volts.span(),
            "`meter_v` is given without a reading",
            "expected `standby_ua` beside it",
        )),
        (None, None) => {}
    }
    assumed
}

/// The power asleep that a meter reading tells, mW.
fn read_meter(
    reader: &mut Reader,
    keys: &DrawKeys,
    reading: &Spanned<Reading>,
    supply: &Supply,
) -> Known {
    if keys.standby_mw.is_some() {
        reader.problem(Problem::at(
            reading.span(),
            "`standby_ua` and `standby_mw` say the same thing twice",
            "give one of them",
        ));
    }
    let (range, usual) = (accepted::METER_UA, Known::read_off(50.0, METER_GOOD_TO));
    let microamps = known::read(reader, reading, "standby_ua", range, usual, METER_GOOD_TO);
    let nominal = supply.nominal.as_volts();
    let volts = reader.number(
        keys.meter_v.as_ref(),
        "meter_v",
        accepted::SUPPLY_V,
        nominal,
    );
    microamps.times(volts / 1000.0)
}

fn read_settings(reader: &mut Reader, keys: &SettingsKeys, kind: Kind) -> Settings {
    let video = kind == Kind::Video;
    let uploads = [("none", None), ("each", Some(false)), ("daily", Some(true))];
    let signals = Signal::ALL.map(|signal| (signal.name(), signal));
    let usual_upload = kind.has_modem().then_some(false);
    let upload = reader.choice(keys.upload.as_ref(), "upload", &uploads, usual_upload);
    let hour = reader.whole(keys.upload_hour.as_ref(), "upload_hour", 0..=23, 13);
    let usual_check_ins = if kind.has_modem() { 1.0 } else { 0.0 };
    let settings = Settings {
        shots: reader.whole(keys.shots.as_ref(), "shots", 0..=30, u8::from(!video)),
        video_s: reader.number(
            keys.video_s.as_ref(),
            "video_s",
            0.0..=300.0,
            if video { 15.0 } else { 0.0 },
        ),
        quiet_s: reader.number(keys.quiet_s.as_ref(), "quiet_s", 0.0..=86_400.0, 0.0),
        flash_pct: reader.number(keys.flash_pct.as_ref(), "flash_pct", 0.0..=100.0, 100.0),
        flash_below_sun_deg: reader.number(
            keys.flash_below_sun_deg.as_ref(),
            "flash_below_sun_deg",
            -18.0..=30.0,
            0.0,
        ),
        scheduled_per_day: reader.number(
            keys.scheduled_per_day.as_ref(),
            "scheduled_per_day",
            accepted::PER_DAY,
            1.0,
        ),
        upload: upload.map(|daily| {
            if daily {
                UploadMode::Daily { hour }
            } else {
                UploadMode::Each
            }
        }),
        upload_pictures: reader.number(
            keys.upload_pictures.as_ref(),
            "upload_pictures",
            0.0..=100.0,
            1.0,
        ),
        upload_mb: reader.number(keys.upload_mb.as_ref(), "upload_mb", 0.001..=50.0, 0.1),
        signal: reader.choice(keys.signal.as_ref(), "signal", &signals, Signal::Good),
        check_ins_per_day: reader.number(
            keys.check_ins_per_day.as_ref(),
            "check_ins_per_day",
            accepted::PER_DAY,
            usual_check_ins,
        ),
        card_gb: keys
            .card_gb
            .as_ref()
            .map(|card| reader.number(Some(card), "card_gb", accepted::CARD_GB, 32.0)),
    };
    if settings.shots == 0 && settings.video_s <= 0.0 {
        let span = keys.place_of("shots").or_else(|| keys.place_of("video_s"));
        let message = "neither pictures nor video are taken";
        let label = "expected at least one picture or a video";
        reader.problem(match span {
            Some(span) => Problem::at(span, message, label),
            None => Problem::whole(message),
        });
    }
    settings
}

fn read_pack(
    reader: &mut Reader,
    keys: &PackKeys,
    supply: &Supply,
    camera: std::ops::Range<usize>,
    own: &CellFiles,
) -> Option<PackChoice> {
    let help = "for example cell = \"alkaline-aa\"; `overwinter catalogue` lists them";
    let names = reader.required(keys.cell.as_ref(), "cell", camera.clone(), help)?;
    let span = keys.place_of("cell").unwrap_or(camera);
    let cell = read_cell(reader, &names, span, own)?;
    let usual = PackChoice::usual_series(&cell, supply);
    Some(PackChoice {
        cell,
        series: reader.whole(keys.series.as_ref(), "series", 1..=24, usual),
        parallel: reader.whole(keys.parallel.as_ref(), "parallel", 1..=24, 1),
        stored_months: reader.number(
            keys.stored_months.as_ref(),
            "stored_months",
            0.0..=240.0,
            0.0,
        ),
        purchase: keys
            .purchase
            .as_ref()
            .map(|label| reader.printed(label, "purchase", LONGEST_LABEL)),
    })
}

/// The longest name of a purchase or a model, characters.
const LONGEST_LABEL: usize = 60;

fn read_cell(
    reader: &mut Reader,
    names: &CellNames,
    span: std::ops::Range<usize>,
    own: &CellFiles,
) -> Option<SharedCell> {
    let name = match names {
        CellNames::One(name) => name,
        CellNames::Several(names) => match names.as_slice() {
            [first, rest @ ..] if rest.iter().all(|other| other == first) => first,
            _ => {
                let problem = Problem::at(
                    span,
                    "a pack of different cells is refused",
                    "expected one kind of cell",
                );
                reader.problem(problem.help(
                    "never mix chemistries, brands or old and new cells: the weakest is driven \
                     over, leaks or vents, and ends the pack without warning",
                ));
                return None;
            }
        },
    };
    own.find(reader, &Spanned::new(span, name.clone()))
}
