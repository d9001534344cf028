//! What is said on standard error beside an answer that stands.

use std::io::{IsTerminal, Write};
use std::path::Path;

use annotate_snippets::renderer::DecorStyle;
use annotate_snippets::{Group, Level, Renderer};
use overwinter_line::shown::{self, visible_lines};

/// A warning: the answer may be about something other than what was meant.
pub fn warn(message: &str, help: Option<&str>) {
    let message = visible_lines(message);
    let mut group = Group::with_title(Level::WARNING.primary_title(message.as_ref()));
    let help = help.map(visible_lines);
    if let Some(help) = &help {
        group = group.element(Level::HELP.message(help.as_ref()));
    }
    let renderer = if coloured() {
        Renderer::styled()
    } else {
        Renderer::plain()
    };
    say(&renderer.decor_style(DecorStyle::Ascii).render(&[group]));
}

/// A file was written.
pub fn wrote(path: &Path) {
    say(&format!("wrote {}", shown::path(path)));
}

fn say(text: &str) {
    // If nobody hears us there is nobody to tell.
    let _ = writeln!(std::io::stderr(), "{text}");
}

/// Whether talk on standard error may be coloured.
#[must_use]
pub fn coloured() -> bool {
    std::io::stderr().is_terminal() && std::env::var_os("NO_COLOR").is_none()
}
