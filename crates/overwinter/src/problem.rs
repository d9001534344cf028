//! What is wrong with an input, where, and what to do about it; and how a run can fail.

use std::fmt;
use std::ops::Range;
use std::path::Path;

use annotate_snippets::renderer::DecorStyle;
use annotate_snippets::{AnnotationKind, Group, Level, Renderer, Snippet};

/// A file's name as the user gave it, and its text.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SourceText {
    /// Name to show.
    pub name: String,
    /// Whole text.
    pub text: String,
}

/// One thing that is wrong in a file.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Problem {
    /// What is wrong.
    pub message: String,
    /// What was expected at that place.
    pub label: String,
    /// The place, in bytes of the text.
    pub span: Option<Range<usize>>,
    /// What to do.
    pub help: Option<String>,
}

impl Problem {
    /// A problem at a place.
    pub fn at(span: Range<usize>, message: impl Into<String>, label: impl Into<String>) -> Self {
        Self {
            message: message.into(),
            label: label.into(),
            span: Some(span),
            help: None,
        }
    }

    /// A problem of the file as a whole.
    pub fn whole(message: impl Into<String>) -> Self {
        Self {
            message: message.into(),
            label: String::new(),
            span: None,
            help: None,
        }
    }

    /// The same with advice.
    #[must_use]
    pub fn help(mut self, help: impl Into<String>) -> Self {
        self.help = Some(help.into());
        self
    }

    /// As it is shown, with the line of the file it speaks of.
    fn render(&self, source: &SourceText, renderer: &Renderer) -> String {
        let title = Level::ERROR.primary_title(self.message.as_str());
        let mut group = match &self.span {
            Some(span) => {
                let span = clip(span, source.text.len());
                let mark = AnnotationKind::Primary
                    .span(span)
                    .label(self.label.as_str());
                let snippet = Snippet::source(source.text.as_str())
                    .path(source.name.as_str())
                    .annotation(mark);
                title.element(snippet)
            }
            None => {
                Group::with_title(title).element(Level::NOTE.message(format!("in {}", source.name)))
            }
        };
        if let Some(help) = &self.help {
            group = group.element(Level::HELP.message(help.as_str()));
        }
        renderer.render(&[group])
    }
}

/// A span inside the text: a parser may point one past its end.
fn clip(span: &Range<usize>, length: usize) -> Range<usize> {
    let start = span.start.min(length);
    start..span.end.clamp(start, length)
}

/// How a command can fail.
#[derive(Debug)]
pub enum Failure {
    /// The input is wrong: exit code 2.
    Input {
        /// The file.
        source: SourceText,
        /// All that is wrong with it, in its order.
        problems: Vec<Problem>,
    },
    /// The input is wrong, and there is no place in a file to point at: exit code 2.
    Request {
        /// What is wrong.
        message: String,
        /// What to do.
        help: Option<String>,
    },
    /// The run failed, for example because a file could not be written: exit code 1.
    Run(String),
    /// Whoever read our output stopped reading, which is no fault: exit code 0.
    ClosedPipe,
}

impl Failure {
    /// A wrong request with advice.
    pub fn request(message: impl Into<String>, help: impl Into<String>) -> Self {
        Self::Request {
            message: message.into(),
            help: Some(help.into()),
        }
    }

    /// The process's exit code.
    #[must_use]
    pub fn exit_code(&self) -> u8 {
        match self {
            Self::Input { .. } | Self::Request { .. } => 2,
            Self::Run(_) => 1,
            Self::ClosedPipe => 0,
        }
    }

    /// As it is shown; in colour or plain.
    #[must_use]
    pub fn render(&self, coloured: bool) -> String {
        let renderer = if coloured {
            Renderer::styled()
        } else {
            Renderer::plain()
        }
        .decor_style(DecorStyle::Ascii);
        match self {
            Self::Input { source, problems } => {
                let shown: Vec<String> = problems
                    .iter()
                    .map(|p| p.render(source, &renderer))
                    .collect();
                shown.join("\n\n")
            }
            Self::Request { message, help } => {
                let mut group = Group::with_title(Level::ERROR.primary_title(message.as_str()));
                if let Some(help) = help {
                    group = group.element(Level::HELP.message(help.as_str()));
                }
                renderer.render(&[group])
            }
            Self::Run(message) => renderer.render(&[Group::with_title(
                Level::ERROR.primary_title(message.as_str()),
            )]),
            Self::ClosedPipe => String::new(),
        }
    }
}

impl fmt::Display for Failure {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.render(false))
    }
}

impl std::error::Error for Failure {}

/// The name out of `known` that is nearest to `given`, if one is near.
#[must_use]
pub fn nearest<'a>(given: &str, known: impl IntoIterator<Item = &'a str>) -> Option<&'a str> {
    let given = given.to_lowercase();
    known
        .into_iter()
        .map(|name| (strsim::normalized_damerau_levenshtein(&given, name), name))
        .filter(|(likeness, _)| *likeness >= 0.5)
        .max_by(|a, b| a.0.total_cmp(&b.0))
        .map(|(_, name)| name)
}

/// Advice after a misspelt name: the nearest one, or all of them.
#[must_use]
pub fn suggest(given: &str, known: &[&str]) -> String {
    match nearest(given, known.iter().copied()) {
        Some(name) => format!("did you mean `{name}`?"),
        None => format!("known here: {}", known.join(", ")),
    }
}

/// Reads a text file of at most `limit` bytes.
///
/// # Errors
/// [`Failure::Request`] if it is not there, too big, not readable or not text.
pub fn read_text(path: &Path, what: &str, limit: u64) -> Result<SourceText, Failure> {
    let name = path.display().to_string();
    let cannot = |why: std::io::Error| {
        Failure::request(
            format!("{what} `{name}` cannot be read: {why}"),
            "check the path; it is taken from the folder you are in",
        )
    };
    let meta = std::fs::metadata(path).map_err(cannot)?;
    if meta.is_dir() {
        return Err(Failure::request(
            format!("{what} `{name}` is a folder"),
            "give the file in it",
        ));
    }
    if meta.len() > limit {
        return Err(Failure::request(
            format!(
                "{what} `{name}` has {} bytes; {limit} is the most",
                meta.len()
            ),
            "is this the right file?",
        ));
    }
    let bytes = std::fs::read(path).map_err(cannot)?;
    let text = String::from_utf8(bytes).map_err(|why| {
        let at = why.utf8_error().valid_up_to();
        Failure::request(
            format!("{what} `{name}` is not text: byte {at} is not UTF-8"),
            "is this the right file?",
        )
    })?;
    Ok(SourceText { name, text })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn nearest_finds_a_typo_and_refuses_a_stranger() {
        let known = ["alkaline-aa", "lithium-aa", "nimh-aa"];
        assert_eq!(nearest("alcaline-aa", known), Some("alkaline-aa"));
        assert_eq!(nearest("Lithum-AA", known), Some("lithium-aa"));
        assert_eq!(nearest("zzz", known), None);
    }
}
