//! `check`: what looks wrong or risky in a line, as text and JSON.

use overwinter_line::answer::check::Check;
use overwinter_line::words;

use super::json_text;
use super::paragraph::wrap;

/// What to mind in any case.
const CAUTIONS: &str = "Before you go: keep lithium cells from short circuit and out of fire; never \
    recharge primary cells; charge nothing below 0 °C unless its maker allows it; tell somebody \
    your route and return; wear what the hunting season asks for. Local rules and the makers' \
    instructions come first.";

/// The answer for a person.
#[must_use]
pub fn text(check: &Check) -> String {
    let findings = &check.findings;
    let cameras = words::count(check.cameras, "camera");
    let mut text = format!("{}: {cameras}, ", check.site);
    text.push_str(&match findings.len() {
        0 => "nothing found".to_owned(),
        n => words::count(n, "finding"),
    });
    let grave = findings.iter().filter(|finding| finding.grave).count();
    if grave > 0 {
        text.push_str(&format!(", {grave} grave"));
    }
    text.push_str(".\n");
    for finding in findings {
        let whose = finding.camera.as_deref().unwrap_or("line");
        let grave = if finding.grave { " (grave)" } else { "" };
        let stop = if finding.text.ends_with('?') { "" } else { "." };
        let told = format!("- {whose}{grave}: {}{stop}", finding.text);
        text.push_str(&wrap(&told));
        text.push('\n');
    }
    text.push('\n');
    text.push_str(&wrap(CAUTIONS));
    text.push('\n');
    text
}

/// The answer for a script.
#[must_use]
pub fn json(check: &Check) -> String {
    json_text(check)
}
