//! The settings that a camera could have in place of its own, one changed at a time.

use overwinter_model::draw::UploadMode;

use crate::line::{Camera, Kind, Settings};

/// Pictures per trigger.
const SHOTS: [u8; 4] = [1, 2, 3, 5];

/// Lengths of a video, seconds; half of what it has now is tried too.
const VIDEO_S: [f64; 4] = [5.0, 10.0, 15.0, 30.0];

/// Quiet times, seconds.
const QUIET_S: [f64; 4] = [0.0, 30.0, 60.0, 300.0];

/// Powers of the light, percent.
const FLASH_PCT: [f64; 4] = [100.0, 70.0, 50.0, 35.0];

/// Triggers a day by the clock.
const SCHEDULED_PER_DAY: [f64; 4] = [0.0, 1.0, 4.0, 24.0];

/// Reports a day.
const CHECK_INS_PER_DAY: [f64; 3] = [0.0, 1.0, 4.0];

/// False triggers as factors on those of now: less sensitive and grass cut, or more sensitive.
const FALSE_TRIGGER_FACTORS: [f64; 3] = [0.0, 0.5, 2.0];

/// The hour of a daily session where the camera has none yet.
const UPLOAD_HOUR: u8 = 13;

/// False triggers a day with as many animals: `false_share` and `triggers_per_day` in `[activity]`.
pub(super) const FALSE_TRIGGERS: &str = "false triggers a day";

/// What a key of `[settings]` gets.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum NewValue {
    /// A number.
    Number(f64),
    /// A name.
    Name(&'static str),
}

impl std::fmt::Display for NewValue {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Self::Number(number) => write!(f, "{}", crate::words::plain(*number)),
            Self::Name(name) => write!(f, "{name}"),
        }
    }
}

/// One key of a camera's settings with another value.
#[derive(Clone, Debug)]
pub(super) struct Change {
    /// The key in `[settings]`, or [`FALSE_TRIGGERS`].
    pub(super) key: &'static str,
    /// What it is now.
    pub(super) from: NewValue,
    /// What is tried.
    pub(super) to: NewValue,
    /// The camera with it.
    pub(super) camera: Camera,
}

/// A camera and the changes that are tried of it.
struct Tries<'a> {
    camera: &'a Camera,
    changes: Vec<Change>,
}

/// Every change that is tried of a camera, each one that its line file could hold: those of a modem
/// only where there is one, a video only where the camera takes videos, the light only where it
/// has one.
#[must_use]
pub(super) fn changes(camera: &Camera) -> Vec<Change> {
    let now = &camera.settings;
    let mut tries = Tries {
        camera,
        changes: Vec::new(),
    };
    if now.shots > 0 {
        let shots = SHOTS.map(f64::from);
        tries.numbers("shots", &shots, |s| Number::Whole(&mut s.shots));
    }
    if camera.kind == Kind::Video || now.video_s > 0.0 {
        tries.numbers("video_s", &video_lengths(now), |s| {
            Number::Any(&mut s.video_s)
        });
    }
    tries.numbers("quiet_s", &QUIET_S, |s| Number::Any(&mut s.quiet_s));
    if camera.draw.night_trigger.is_lit() {
        tries.numbers("flash_pct", &FLASH_PCT, |s| Number::Any(&mut s.flash_pct));
    }
    tries.numbers("scheduled_per_day", &SCHEDULED_PER_DAY, |s| {
        Number::Any(&mut s.scheduled_per_day)
    });
    if camera.kind.has_modem() {
        tries.uploads();
        tries.numbers("check_ins_per_day", &CHECK_INS_PER_DAY, |s| {
            Number::Any(&mut s.check_ins_per_day)
        });
    }
    tries.false_triggers();
    tries.changes
}

/// A number among the settings.
enum Number<'a> {
    Whole(&'a mut u8),
    Any(&'a mut f64),
}

impl Number<'_> {
    fn get(&self) -> f64 {
        match self {
            Self::Whole(number) => f64::from(**number),
            Self::Any(number) => **number,
        }
    }

    fn set(&mut self, value: f64) {
        match self {
            // What is tried of whole numbers is whole and small.
            Self::Whole(number) => **number = value as u8,
            Self::Any(number) => **number = value,
        }
    }
}

impl Tries<'_> {
    /// Each of `tried` but what it is now.
    fn numbers(
        &mut self,
        key: &'static str,
        tried: &[f64],
        number: impl Fn(&mut Settings) -> Number<'_>,
    ) {
        let now = self.camera.settings;
        let from = number(&mut now.clone()).get();
        for &to in tried {
            if (to - from).abs() < 1e-9 {
                continue;
            }
            let mut settings = now;
            number(&mut settings).set(to);
            self.changes.push(Change {
                key,
                from: NewValue::Number(from),
                to: NewValue::Number(to),
                camera: self.camera.with_settings(settings),
            });
        }
    }

    /// The other modes of upload.
    fn uploads(&mut self) {
        let now = self.camera.settings;
        let hour = match now.upload {
            Some(UploadMode::Daily { hour }) => hour,
            _ => UPLOAD_HOUR,
        };
        let modes = [
            None,
            Some(UploadMode::Each),
            Some(UploadMode::Daily { hour }),
        ];
        let others = modes.into_iter().filter(|mode| *mode != now.upload);
        self.changes.extend(others.map(|upload| Change {
            key: "upload",
            from: NewValue::Name(upload_name(now.upload)),
            to: NewValue::Name(upload_name(upload)),
            camera: self.camera.with_settings(Settings { upload, ..now }),
        }));
    }

    /// Fewer and more false triggers, where there are any; as a mean over the months.
    fn false_triggers(&mut self) {
        let activity = &self.camera.activity;
        let rates = activity.triggers_per_day();
        let now = rates.iter().sum::<f64>() / 12.0 * activity.counts().false_share;
        if now <= 0.0 {
            return;
        }
        self.changes
            .extend(FALSE_TRIGGER_FACTORS.map(|factor| Change {
                key: FALSE_TRIGGERS,
                from: NewValue::Number(now),
                to: NewValue::Number(now * factor),
                camera: self.camera.with_false_triggers_times(factor),
            }));
    }
}

/// None where pictures are taken too, half of now, and the usual ones.
fn video_lengths(now: &Settings) -> Vec<f64> {
    let none = (now.shots > 0).then_some(0.0);
    let half = (now.video_s > 0.0).then_some(now.video_s / 2.0);
    let usual = VIDEO_S.into_iter().filter(|length| Some(*length) != half);
    none.into_iter().chain(half).chain(usual).collect()
}

fn upload_name(upload: Option<UploadMode>) -> &'static str {
    match upload {
        None => "none",
        Some(UploadMode::Each) => "each",
        Some(UploadMode::Daily { .. }) => "daily",
    }
}
