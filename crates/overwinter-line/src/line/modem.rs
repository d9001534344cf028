//! Keys that only a camera with a modem has any use for.

use std::ops::Range;

use super::camera::Merged;
use super::figures::Figure;
use super::kinds::Kind;
use crate::keys::Reader;
use crate::problem::Problem;

/// Keys of `[settings]` about a modem, apart from the two that can say that there is none.
const SETTINGS: [&str; 4] = ["upload_hour", "upload_pictures", "upload_mb", "signal"];

/// Refuses a modem's keys on a camera without one: they would be read and have no effect.
pub(super) fn refuse(reader: &mut Reader, merged: &Merged, kind: Kind) {
    let settings = &merged.settings;
    let mut given: Vec<(&str, Range<usize>)> = Vec::new();
    let mut note = |key: &'static str, place: Option<Range<usize>>| {
        given.extend(place.map(|place| (key, place)));
    };
    note("upload_cutoff_v", merged.draw.place_of("upload_cutoff_v"));
    for figure in Figure::ALL
        .into_iter()
        .filter(|figure| figure.is_of_modem())
    {
        let given = merged.draw.figure(figure);
        note(figure.key(), given.map(toml::Spanned::span));
    }
    for key in SETTINGS {
        note(key, settings.place_of(key));
    }
    let sends = settings.upload.as_ref().filter(|u| u.get_ref() != "none");
    note("upload", sends.map(toml::Spanned::span));
    let reports = settings.check_ins_per_day.as_ref();
    let reports = reports.filter(|per_day| *per_day.get_ref() > 0.0);
    note("check_ins_per_day", reports.map(toml::Spanned::span));
    for (key, place) in given {
        let problem = Problem::at(
            place,
            format!(
                "`{key}` is given, but a camera of kind \"{}\" has no modem",
                kind.name()
            ),
            "has no effect",
        );
        reader.problem(problem.help("set `kind` to \"stills-cat1\" or \"stills-catm1\""));
    }
}
