//! What stands above answers: the line, its season, and the path that it was followed along.

use overwinter_line::line::Season;
use overwinter_line::words;

use super::paragraph::wrap;

/// What mean weather does to panels: mean winter air never thaws, and so locks a store out that
/// takes no charge in frost.
const WITH_PANELS: &str = "It has neither a cold spell nor a thaw, neither a clear day nor a dull one: \
    a camera without a panel lasts longer on it than in most seasons, one with a panel may end sooner \
    or later";

/// Where the path is, within a sentence.
pub(super) fn on_path(replayed: bool) -> &'static str {
    if replayed {
        "in the file's year with mean traffic"
    } else {
        "on the expected path"
    }
}

/// What follows on sampled seasons that have their weather in common; else nothing.
pub(super) fn same_weather(replayed: bool) -> &'static str {
    if replayed {
        " The weather is that of the file's hours in each of them."
    } else {
        ""
    }
}

/// What stands above the path where it stands alone.
pub(super) fn path_heading(replayed: bool, has_panels: bool) -> String {
    let text = match replayed {
        true => {
            "The file's year as it was, with mean traffic. Another year has other cold spells; a \
             busy trail or a poor set of cells ends sooner."
                .to_owned()
        }
        false if has_panels => format!(
            "Expected path: one season of mean weather and mean traffic. {WITH_PANELS}; the odds of \
             `forecast` tell by how much."
        ),
        false => {
            "Expected path: one season of mean weather and mean traffic. No cold spell falls in it, so \
             most real seasons end sooner; the odds of `forecast` tell by how much."
                .to_owned()
        }
    };
    wrap(&text) + "\n\n"
}

/// What stands above the path where odds stand before it.
pub(super) fn path_heading_after_odds(replayed: bool, has_panels: bool) -> String {
    let text = match replayed {
        true => {
            "The file's year as it was, with mean traffic, to show what ends and why:".to_owned()
        }
        false if has_panels => format!(
            "One season of mean weather and mean traffic, to show what ends and why. {WITH_PANELS}:"
        ),
        false => {
            "One season of mean weather and mean traffic, to show what ends and why. No cold spell \
             falls in it, so it lasts longer than most:"
                .to_owned()
        }
    };
    wrap(&text) + "\n\n"
}

/// What stands above the budget: with panels it also holds what they stored.
pub(super) fn budget_heading(has_panels: bool) -> String {
    let from_panels = if has_panels { " and from panels" } else { "" };
    format!("Where the energy in the cells{from_panels} goes, percent:\n\n")
}

/// Site, season and where the temperatures come from.
pub(super) fn site_heading(site: &str, season: &Season, weather: &str) -> String {
    format!(
        "{site}, {} to {} ({})\n{}\n",
        words::date(season.start),
        words::date(season.end),
        season.length(),
        wrap(&format!("Air: {weather}."))
    )
}
