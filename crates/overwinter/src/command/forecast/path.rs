//! The one path of mean weather, and what it leaves out.

use overwinter_line::answer::path::has_panels;
use overwinter_line::line::{Line, WeatherOrigin};

use crate::command::assumptions::wrap;

/// What mean weather does to panels: mean winter air never thaws, and so locks a store out that
/// takes no charge in frost.
const WITH_PANELS: &str = "It has neither a cold spell nor a thaw, neither a clear day nor a dull one: \
    a camera without a panel lasts longer on it than in most seasons, one with a panel may end sooner \
    or later";

/// Where the path is, within a sentence.
pub(in crate::command) fn on_path(origin: &WeatherOrigin) -> &'static str {
    match origin {
        WeatherOrigin::FileHours(_) => "in the file's year with mean traffic",
        _ => "on the expected path",
    }
}

/// What follows on sampled seasons that have their weather in common; else nothing.
pub(in crate::command) fn same_weather(origin: &WeatherOrigin) -> &'static str {
    match origin {
        WeatherOrigin::FileHours(_) => " The weather is that of the file's hours in each of them.",
        _ => "",
    }
}

/// What stands above the path where it stands alone.
pub(super) fn heading(line: &Line) -> String {
    let text = match line.climate.origin {
        WeatherOrigin::FileHours(_) => {
            "The file's year as it was, with mean traffic. Another year has other cold spells; a \
             busy trail or a poor set of cells ends sooner."
                .to_owned()
        }
        _ if has_panels(line) => format!(
            "Expected path: one season of mean weather and mean traffic. {WITH_PANELS}; the odds of \
             `forecast` tell by how much."
        ),
        _ => {
            "Expected path: one season of mean weather and mean traffic. No cold spell falls in it, so \
             most real seasons end sooner; the odds of `forecast` tell by how much."
                .to_owned()
        }
    };
    wrap(&text) + "\n\n"
}

/// What stands above the path where odds stand before it.
pub(super) fn heading_after_odds(line: &Line) -> String {
    let text = match line.climate.origin {
        WeatherOrigin::FileHours(_) => {
            "The file's year as it was, with mean traffic, to show what ends and why:".to_owned()
        }
        _ if has_panels(line) => format!(
            "One season of mean weather and mean traffic, to show what ends and why. {WITH_PANELS}:"
        ),
        _ => {
            "One season of mean weather and mean traffic, to show what ends and why. No cold spell \
             falls in it, so it lasts longer than most:"
                .to_owned()
        }
    };
    wrap(&text) + "\n\n"
}

/// What stands above the budget: with panels it also holds what they stored.
pub(in crate::command) fn budget_heading(line: &Line) -> String {
    let from_panels = if has_panels(line) {
        " and from panels"
    } else {
        ""
    };
    format!("Where the energy in the cells{from_panels} goes, percent:\n\n")
}
