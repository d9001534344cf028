//! Keys of a line file that can be given other values.

use super::figures::Figure;
use super::file::{ActivityKeys, DrawKeys, PackKeys, SeasonKeys, SettingsKeys, SiteKeys};
use super::misplaced::unknown_key;
use super::panel::PanelKeys;
use super::value::KeyType;
use crate::problem::suggest;

/// A section with keys that can be varied.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Section {
    /// `[site]`.
    Site,
    /// `[season]`.
    Season,
    /// `[draw]`, of each camera.
    Draw,
    /// `[pack]`, of each camera.
    Pack,
    /// `[activity]`, of each camera.
    Activity,
    /// `[settings]`, of each camera.
    Settings,
    /// `[panel]`, of each camera.
    Panel,
}

impl Section {
    const ALL: [Self; 7] = [
        Self::Site,
        Self::Season,
        Self::Draw,
        Self::Pack,
        Self::Activity,
        Self::Settings,
        Self::Panel,
    ];

    /// As it stands in brackets.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Self::Site => "site",
            Self::Season => "season",
            Self::Draw => "draw",
            Self::Pack => "pack",
            Self::Activity => "activity",
            Self::Settings => "settings",
            Self::Panel => "panel",
        }
    }

    fn types(self) -> &'static [(&'static str, KeyType)] {
        match self {
            Self::Site => SiteKeys::TYPES,
            Self::Season => SeasonKeys::TYPES,
            Self::Draw => DrawKeys::TYPES,
            Self::Pack => PackKeys::TYPES,
            Self::Activity => ActivityKeys::TYPES,
            Self::Settings => SettingsKeys::TYPES,
            Self::Panel => PanelKeys::TYPES,
        }
    }
}

/// One key of a line file.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Key {
    /// Its section.
    pub section: Section,
    /// Its name, which no other section's key has.
    pub name: &'static str,
    /// What its values are.
    pub values: KeyType,
}

impl Key {
    /// Every key that can be varied.
    fn all() -> impl Iterator<Item = Self> {
        let all = Section::ALL.into_iter().flat_map(|section| {
            let types = section.types().iter();
            types.map(move |&(name, values)| Self {
                section,
                name,
                values,
            })
        });
        // A site's name is only printed.
        all.filter(|key| key.values != KeyType::List && key.dotted() != "site.name")
    }

    /// `section.name`.
    fn dotted(&self) -> String {
        format!("{}.{}", self.section.name(), self.name)
    }

    /// A key by its name, with its section before a point or without.
    ///
    /// # Errors
    /// What is wrong and what to do, if there is no such key or it cannot be varied.
    pub fn find(text: &str) -> Result<Self, (String, String)> {
        let found = Self::all().find(|key| key.name == text || key.dotted() == text);
        found.ok_or_else(|| Self::unknown(text))
    }

    fn unknown(text: &str) -> (String, String) {
        let (section, name) = text.rsplit_once('.').unwrap_or(("", text));
        if let Some(why) = not_varied(name) {
            return (format!("`{text}` cannot be varied"), why.to_owned());
        }
        let message = format!("`{text}` is not a key of a line file");
        if let Some(key) = Self::all().find(|key| key.name == name) {
            return (message, format!("did you mean `{}`?", key.dotted()));
        }
        let advice = if section.is_empty() {
            let names: Vec<&str> = Self::all().map(|key| key.name).collect();
            unknown_key(0..0, name, &names).help.unwrap_or_default()
        } else {
            let names: Vec<String> = Self::all().map(|key| key.dotted()).collect();
            suggest(text, &names.iter().map(String::as_str).collect::<Vec<_>>())
        };
        (message, advice)
    }

    /// Keys of the same section that say the same in another way, or serve one that does: they are
    /// put aside where this one gets a value.
    pub(super) fn puts_aside(&self) -> &'static [&'static str] {
        match self.name {
            "standby_mw" => &["standby_ua", "meter_v"],
            "standby_ua" => &["standby_mw"],
            "pattern" => &["by_hour"],
            "climate" => &["weather", "weather_use", "normals"],
            "weather" => &["climate", "normals"],
            _ => &[],
        }
    }

    /// Whether a value for one of two keys takes away that of the other.
    #[must_use]
    pub fn excludes(&self, other: &Self) -> bool {
        self.puts_aside().contains(&other.name) || other.puts_aside().contains(&self.name)
    }

    /// Whether it decides the air and the light, which a line's cameras share.
    #[must_use]
    pub fn is_of_season(&self) -> bool {
        matches!(self.section, Section::Site | Section::Season)
    }

    /// Its name in words, and its unit if it has one: `standby` and `µA`.
    #[must_use]
    pub fn words(&self) -> (String, Option<&'static str>) {
        if self.name == "watts" {
            return ("panel".to_owned(), Some("W"));
        }
        let figure = Figure::ALL
            .into_iter()
            .find(|figure| figure.key() == self.name);
        if let Some(figure) = figure {
            let unit = figure.unit();
            let ending = format!("_{}", unit.sign().to_lowercase().replace('/', "_per_"));
            let stem = self.name.strip_suffix(&ending).unwrap_or(self.name);
            return (stem.replace('_', " "), Some(unit.sign()));
        }
        // The longer endings first.
        const UNITS: [(&str, &str); 9] = [
            ("_months", "months"),
            ("_wh", "Wh"),
            ("_ua", "µA"),
            ("_mb", "MB"),
            ("_deg", "°"),
            ("_pct", "%"),
            ("_s", "s"),
            ("_v", "V"),
            ("_h", "h"),
        ];
        let unit = UNITS
            .iter()
            .find_map(|(ending, unit)| Some((self.name.strip_suffix(ending)?, *unit)));
        let (stem, unit) = match unit {
            Some((stem, unit)) if !stem.is_empty() => (stem, Some(unit)),
            _ => (self.name, None),
        };
        (stem.replace('_', " "), unit)
    }
}

/// Why a key that a line file knows is not among those that can be varied.
fn not_varied(name: &str) -> Option<&'static str> {
    match name {
        "by_hour" | "by_month" | "normals" | "mean_c" | "daily_max_c" | "daily_min_c"
        | "snow_cover_pct" | "snow_on_panel_pct" => {
            Some("it is a list; a key with a single value can be varied")
        }
        "name" | "facing_deg" | "currency" => Some("no camera lasts longer or shorter for it"),
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use std::collections::HashSet;

    use super::*;

    #[test]
    fn every_key_has_a_name_of_its_own_and_is_found_by_both() {
        let mut names = HashSet::new();
        for key in Key::all() {
            assert!(names.insert(key.name), "{}", key.dotted());
            assert_eq!(Key::find(key.name), Ok(key));
            assert_eq!(Key::find(&key.dotted()), Ok(key));
        }
        assert!(names.len() > 40);
    }

    #[test]
    fn a_misspelt_key_is_answered_with_the_nearest() {
        let told = |text: &str| Key::find(text).expect_err(text);
        assert_eq!(told("shot").1, "did you mean `shots`?");
        assert_eq!(told("setings.shots").1, "did you mean `settings.shots`?");
        assert_eq!(told("setings.shot").1, "did you mean `settings.shots`?");
        assert!(told("standby_ma").1.contains("convert"));
        assert!(told("by_hour").1.contains("list"));
    }

    #[test]
    fn a_unit_is_told_from_the_name() {
        let words = |name: &str| Key::find(name).expect("a key").words();
        assert_eq!(words("standby_ua"), ("standby".to_owned(), Some("µA")));
        assert_eq!(words("data_j_per_mb").1, Some("J/MB"));
        assert_eq!(words("video_mb_per_s"), ("video".to_owned(), Some("MB/s")));
        assert_eq!(words("flash_below_sun_deg").0, "flash below sun");
        assert_eq!(
            words("triggers_per_day"),
            ("triggers per day".to_owned(), None)
        );
    }
}
