//! What is wrong with an input, where, and what to do about it; and how a run can fail.

mod quoted;
mod source_text;
mod suggest;

use std::fmt;
use std::ops::Range;

use annotate_snippets::renderer::DecorStyle;
use annotate_snippets::{AnnotationKind, Group, Level, Renderer, Snippet};

use crate::shown::visible_lines;
use quoted::{Quoted, clip, told};

pub use source_text::SourceText;
pub(crate) use source_text::place_after;
pub use suggest::{likely, nearest, suggest};

/// More problems than this are counted and not shown.
const MOST_SHOWN: usize = 20;

/// More cameras than this are counted and not named.
const MOST_NAMED: usize = 5;

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
    /// The cameras that it is about; none if it is about the whole line.
    pub cameras: Vec<String>,
}

impl Problem {
    /// A problem at a place.
    pub fn at(span: Range<usize>, message: impl Into<String>, label: impl Into<String>) -> Self {
        Self {
            message: message.into(),
            label: label.into(),
            span: Some(span),
            help: None,
            cameras: Vec::new(),
        }
    }

    /// A problem of the file as a whole.
    pub fn whole(message: impl Into<String>) -> Self {
        Self {
            message: message.into(),
            label: String::new(),
            span: None,
            help: None,
            cameras: Vec::new(),
        }
    }

    /// The same with advice.
    #[must_use]
    pub fn help(mut self, help: impl Into<String>) -> Self {
        self.help = Some(help.into());
        self
    }

    /// The same with the nearest of the known names as advice, if one is near.
    #[must_use]
    pub fn did_you_mean(self, given: &str, known: &[&str]) -> Self {
        match nearest(given, known.iter().copied()) {
            Some(name) => self.help(format!("did you mean `{name}`?")),
            None => self,
        }
    }

    /// Line and column of its place, in characters from 1.
    #[must_use]
    pub fn place(&self, source: &SourceText) -> Option<(usize, usize)> {
        let span = clip(self.span.as_ref()?, source.text.len());
        let before = source.text.as_bytes().get(..span.start)?;
        Some(place_after(before))
    }

    /// What was expected, and what to do, in one line.
    #[must_use]
    pub fn advice(&self) -> String {
        let help = self.help.as_deref().unwrap_or_default();
        let parts = [self.label.as_str(), help];
        let told: Vec<&str> = parts.into_iter().filter(|part| !part.is_empty()).collect();
        told.join("; ")
    }

    /// As it is shown, with the line of the file it speaks of.
    fn render(&self, source: &SourceText, renderer: &Renderer) -> String {
        let message = told(&self.message);
        let title = Level::ERROR.primary_title(message.as_ref());
        let mut group = match &self.span {
            Some(span) => {
                let quoted = Quoted::of(&source.text, span);
                let mark = AnnotationKind::Primary
                    .span(quoted.span)
                    .label(told(&self.label).into_owned());
                let snippet = Snippet::source(quoted.line)
                    .line_start(quoted.number)
                    .path(source.name.as_str())
                    .annotation(mark);
                title.element(snippet)
            }
            None => {
                Group::with_title(title).element(Level::NOTE.message(format!("in {}", source.name)))
            }
        };
        if !self.cameras.is_empty() {
            group = group.element(Level::NOTE.message(self.whose()));
        }
        if let Some(help) = &self.help {
            group = group.element(Level::HELP.message(visible_lines(help).into_owned()));
        }
        renderer.render(&[group])
    }

    /// The cameras it is about, in words.
    pub(crate) fn whose(&self) -> String {
        let named = self.cameras.len().min(MOST_NAMED);
        let names = self.cameras[..named].join(", ");
        match self.cameras.len() {
            1 => format!("camera {names}"),
            n if n == named => format!("cameras {names}"),
            n => format!("cameras {names} and {} more", n - named),
        }
    }

    /// Whether it says the same as `other`: at the same place, or each at a camera of its own.
    fn repeats(&self, other: &Self) -> bool {
        let both_of_cameras = !self.cameras.is_empty() && !other.cameras.is_empty();
        (self.span == other.span || both_of_cameras)
            && self.message == other.message
            && self.label == other.label
            && self.help == other.help
    }
}

/// Problems in the file's order, each told once with all the cameras that have it.
#[must_use]
pub fn in_order(mut problems: Vec<Problem>) -> Vec<Problem> {
    problems.sort_by_key(|problem| problem.span.as_ref().map_or(0, |span| span.start));
    let mut told: Vec<Problem> = Vec::new();
    for problem in problems {
        let Some(first) = told.iter_mut().find(|first| problem.repeats(first)) else {
            told.push(problem);
            continue;
        };
        for camera in problem.cameras {
            if !first.cameras.contains(&camera) {
                first.cameras.push(camera);
            }
        }
    }
    told
}

/// Why there is no answer.
#[derive(Debug)]
#[non_exhaustive]
pub enum Failure {
    /// The input is wrong.
    Input {
        /// The file.
        source: SourceText,
        /// All that is wrong with it, in its order.
        problems: Vec<Problem>,
    },
    /// The input is wrong, and there is no place in a file to point at.
    Request {
        /// What is wrong.
        message: String,
        /// What to do.
        help: Option<String>,
    },
    /// The run failed, for example because a file could not be written.
    Run(String),
}

impl Failure {
    /// A wrong request with advice.
    pub fn request(message: impl Into<String>, help: impl Into<String>) -> Self {
        Self::Request {
            message: message.into(),
            help: Some(help.into()),
        }
    }

    /// Whether it is the input that is wrong, in a file or not; else the run failed.
    #[must_use]
    pub fn is_of_input(&self) -> bool {
        matches!(self, Self::Input { .. } | Self::Request { .. })
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
                let mut shown: Vec<String> = problems
                    .iter()
                    .take(MOST_SHOWN)
                    .map(|p| p.render(source, &renderer))
                    .collect();
                if problems.len() > MOST_SHOWN {
                    let beyond = problems.len() - MOST_SHOWN;
                    let title = format!("and {beyond} more in {}", source.name);
                    let title = Level::ERROR.primary_title(title);
                    shown.push(renderer.render(&[Group::with_title(title)]));
                }
                shown.join("\n\n")
            }
            Self::Request { message, help } => {
                let message = told(message);
                let mut group = Group::with_title(Level::ERROR.primary_title(message.as_ref()));
                if let Some(help) = help {
                    group = group.element(Level::HELP.message(visible_lines(help).into_owned()));
                }
                renderer.render(&[group])
            }
            Self::Run(message) => renderer.render(&[Group::with_title(
                Level::ERROR.primary_title(told(message).as_ref()),
            )]),
        }
    }
}

impl fmt::Display for Failure {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.render(false))
    }
}

impl std::error::Error for Failure {}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_several_cameras_inherit_is_told_once_with_their_names() {
        let of = |camera: &str, at: usize, message: &str| Problem {
            cameras: vec![camera.to_owned()],
            ..Problem::at(at..at + 1, message, "expected another")
        };
        let problems = vec![
            of("ford", 9, "low"),
            of("ridge", 9, "low"),
            of("den", 12, "low"),
            of("den", 3, "high"),
            Problem::at(1..2, "low", "expected another"),
        ];
        let told = in_order(problems);
        let told: Vec<_> = told.iter().map(|p| (&p.message[..], p.whose())).collect();
        let expected = [
            ("low", "cameras ".to_owned()),
            ("high", "camera den".to_owned()),
            ("low", "cameras ford, ridge, den".to_owned()),
        ];
        assert_eq!(told, expected);
    }
}
