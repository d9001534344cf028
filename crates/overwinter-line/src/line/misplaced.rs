//! A key that its section does not know: misspelt, in another unit, or in the wrong section.

use std::ops::Range;

use super::file::{
    ActivityKeys, DrawKeys, NormalsKeys, PackKeys, SeasonKeys, SettingsKeys, SiteKeys,
};
use super::panel::PanelKeys;
use crate::problem::{Problem, suggest};

/// A section's name and keys.
struct SectionKeys {
    /// As it stands in brackets.
    name: &'static str,
    /// Its keys.
    keys: &'static [&'static str],
    /// Whether a camera may have its own.
    in_camera: bool,
}

/// The sections, to tell where a misplaced key belongs.
const SECTIONS: [SectionKeys; 10] = [
    section("site", SiteKeys::KEYS, false),
    section("season", SeasonKeys::KEYS, false),
    section("draw", DrawKeys::KEYS, true),
    section("pack", PackKeys::KEYS, true),
    section("activity", ActivityKeys::KEYS, true),
    section("settings", SettingsKeys::KEYS, true),
    section("panel", PanelKeys::KEYS, true),
    section(
        "prices",
        &["currency", "visit", "panel_per_w", "store_per_wh", "cell"],
        false,
    ),
    section("site.normals", NormalsKeys::KEYS, false),
    section(
        "[camera]",
        &[
            "name",
            "facing_deg",
            "draw",
            "pack",
            "activity",
            "settings",
            "panel",
        ],
        false,
    ),
];

/// Shorthand for the table above.
const fn section(
    name: &'static str,
    keys: &'static [&'static str],
    in_camera: bool,
) -> SectionKeys {
    SectionKeys {
        name,
        keys,
        in_camera,
    }
}

/// Endings of keys that are units.
const UNITS: [&str; 22] = [
    "ua", "ma", "a", "uw", "mw", "w", "uj", "mj", "j", "kj", "ms", "s", "min", "h", "mv", "v",
    "gb", "mb", "kb", "c", "wh", "pct",
];

/// The problem of `key` in a section that knows `known`.
pub(super) fn unknown_key(span: Range<usize>, key: &str, known: &[&str]) -> Problem {
    let here = SECTIONS.iter().find(|section| section.keys == known);
    let message = match here {
        Some(here) => format!("`{key}` is not a key of [{}]", here.name),
        None => format!("`{key}` is not a section of a line file"),
    };
    let problem = Problem::at(span, message, "not known here");
    let others = in_other_units(key, known);
    problem.help(if let Some(section) = as_section(key) {
        format!("it is a section of its own: {section}")
    } else if let Some(home) = home_of(key) {
        belongs(key, home)
    } else if others.is_empty() {
        suggest(key, known)
    } else {
        let others = others.join("` or `");
        format!("not in this unit: give `{others}`, and convert the number")
    })
}

/// The heading of a section that is called so.
fn as_section(name: &str) -> Option<String> {
    let heading = |section: &SectionKeys| format!("[{}]", section.name);
    let mut headings = SECTIONS.iter().map(heading);
    headings.find(|heading| heading.trim_matches(['[', ']']) == name)
}

/// The section that has such a key.
fn home_of(key: &str) -> Option<&'static SectionKeys> {
    SECTIONS.iter().find(|section| section.keys.contains(&key))
}

fn belongs(key: &str, home: &SectionKeys) -> String {
    let name = home.name;
    if home.in_camera {
        format!("it belongs in [{name}], or for one camera in its own: {name} = {{ {key} = … }}")
    } else {
        format!("it belongs in [{name}]")
    }
}

/// Keys that are called the same up to the unit at their end.
fn in_other_units<'a>(key: &str, known: &[&'a str]) -> Vec<&'a str> {
    let stem_and_unit = |key: &str| {
        let (stem, unit) = key.rsplit_once('_')?;
        UNITS.contains(&unit).then(|| stem.to_owned())
    };
    let Some(stem) = stem_and_unit(key) else {
        return Vec::new();
    };
    let same = |other: &&str| stem_and_unit(other).as_ref() == Some(&stem);
    known.iter().copied().filter(same).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn help(key: &str, section: &str) -> String {
        let section = SECTIONS.iter().find(|s| s.name == section);
        let known = section.map_or(&[][..], |section| section.keys);
        unknown_key(0..1, key, known).help.unwrap_or_default()
    }

    #[test]
    fn another_unit_is_never_a_mere_typo() {
        let advice = help("standby_ma", "draw");
        assert!(advice.contains("`standby_mw` or `standby_ua`"), "{advice}");
        assert!(advice.contains("convert"), "{advice}");
    }

    #[test]
    fn a_key_in_the_wrong_section_is_sent_home() {
        let advice = help("triggers_per_day", "[camera]");
        assert!(advice.contains("[activity]"), "{advice}");
        assert!(help("standby_w_mw", "draw").contains("standby_mw"));
    }
}
