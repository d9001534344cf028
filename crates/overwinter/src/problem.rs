//! What is wrong with an input, where, and what to do about it; and how a run can fail.

use std::borrow::Cow;
use std::fmt;
use std::ops::Range;

use annotate_snippets::renderer::DecorStyle;
use annotate_snippets::{AnnotationKind, Group, Level, Renderer, Snippet};

use crate::shown::{is_unprintable, visible, visible_lines};
use crate::source::{SourceText, place_after};

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

/// More characters of a message are cut off: it quotes what somebody wrote.
const LONGEST_MESSAGE: usize = 400;

/// A message or label on one line that does nothing but stand there.
fn told(text: &str) -> Cow<'_, str> {
    let shown = visible(text);
    match shown.char_indices().nth(LONGEST_MESSAGE) {
        Some((cut, _)) => Cow::Owned(format!("{}…", &shown[..cut])),
        None => shown,
    }
}

/// The one line of a file that an error quotes, and the place in it.
struct Quoted {
    line: String,
    number: usize,
    span: Range<usize>,
}

impl Quoted {
    /// The line in which `span` starts. What goes on beyond it is marked to its end.
    fn of(text: &str, span: &Range<usize>) -> Self {
        let span = clip(span, text.len());
        let at = text.floor_char_boundary(span.start);
        let start = text[..at].rfind('\n').map_or(0, |end| end + 1);
        let end = text[at..].find('\n').map_or(text.len(), |end| at + end);
        let line = text[start..end].trim_end_matches('\r');
        let shown = |part: &str| part.chars().map(stand_in).collect::<String>();
        // A place at the very end is that of the line's end.
        let from = (at - start).min(line.len());
        let to = line.floor_char_boundary(span.end.max(at) - start).max(from);
        let (before, marked) = (shown(&line[..from]), shown(&line[from..to]));
        let span = before.len()..before.len() + marked.len();
        Self {
            line: before + &marked + &shown(&line[to..]),
            number: text[..start].matches('\n').count() + 1,
            span,
        }
    }
}

/// One character for one, so that columns stay: a picture of a control character (Unicode's block of those),
/// or the sign for one that cannot be shown.
fn stand_in(character: char) -> char {
    match character {
        '\t' => '\t',
        '\0'..='\u{1f}' => char::from_u32(0x2400 + u32::from(character)).unwrap_or('\u{fffd}'),
        '\u{7f}' => '\u{2421}',
        other if is_unprintable(other) => '\u{fffd}',
        other => other,
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

/// The name out of `known` that is nearest to `given`, if one is near; the order of its words, and what
/// stands between them, do not matter.
#[must_use]
pub fn nearest<'a>(given: &str, known: impl IntoIterator<Item = &'a str>) -> Option<&'a str> {
    let lower = given.to_lowercase();
    let in_order = words(given).join("-");
    let likeness = |name: &str| {
        let spelt = strsim::normalized_damerau_levenshtein(&lower, name);
        let by_words = strsim::normalized_damerau_levenshtein(&in_order, &words(name).join("-"));
        spelt.max(by_words)
    };
    known
        .into_iter()
        .map(|name| (likeness(name), name))
        .filter(|(likeness, _)| *likeness >= 0.5)
        .max_by(|a, b| a.0.total_cmp(&b.0))
        .map(|(_, name)| name)
}

/// The words of a name in small letters, in the alphabet's order.
fn words(name: &str) -> Vec<String> {
    let lower = name.to_lowercase();
    let words = lower.split(|c: char| !c.is_alphanumeric());
    let mut words: Vec<String> = words.filter(|w| !w.is_empty()).map(str::to_owned).collect();
    words.sort();
    words
}

/// Advice after a misspelt name: the nearest one, all that begin like it or have all its words, or all
/// of them.
#[must_use]
pub fn suggest(given: &str, known: &[&str]) -> String {
    likely(given, known).unwrap_or_else(|| format!("known here: {}", known.join(", ")))
}

/// The same where one is near; `None` where none is.
#[must_use]
pub fn likely(given: &str, known: &[&str]) -> Option<String> {
    let begun = given.trim().to_lowercase();
    let given_words = words(given);
    let longer = known.iter().filter(|name| {
        let has = words(name);
        !given_words.is_empty()
            && (name.starts_with(&begun) || given_words.iter().all(|word| has.contains(word)))
    });
    let meant: Vec<String> = match longer.map(|name| format!("`{name}`")).collect::<Vec<_>>() {
        longer if !longer.is_empty() => longer,
        _ => nearest(given, known.iter().copied())
            .map(|name| format!("`{name}`"))
            .into_iter()
            .collect(),
    };
    match meant.as_slice() {
        [] => None,
        [one] => Some(format!("did you mean {one}?")),
        [several @ .., last] => Some(format!("did you mean {} or {last}?", several.join(", "))),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_begins_several_names_suggests_them_all() {
        let known = ["alkaline-aa", "alkaline-c", "lithium-aa"];
        assert_eq!(
            suggest("alkalin", &known),
            "did you mean `alkaline-aa` or `alkaline-c`?"
        );
        assert_eq!(suggest("lithum-aa", &known), "did you mean `lithium-aa`?");
        assert_eq!(suggest("zzz", &known[2..]), "known here: lithium-aa");
        assert_eq!(suggest("C", &known), "did you mean `alkaline-c`?");
        assert_eq!(
            suggest("AA", &known),
            "did you mean `alkaline-aa` or `lithium-aa`?"
        );
    }

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

    #[test]
    fn nearest_finds_a_typo_and_refuses_a_stranger() {
        let known = ["alkaline-aa", "lithium-aa", "nimh-aa"];
        assert_eq!(nearest("alcaline-aa", known), Some("alkaline-aa"));
        assert_eq!(nearest("Lithum-AA", known), Some("lithium-aa"));
        assert_eq!(nearest("zzz", known), None);
        for given in ["AA lithium", "lithium AA", "Lithium_AA", "AA/LITHUM"] {
            assert_eq!(nearest(given, known), Some("lithium-aa"), "{given}");
        }
    }
}
