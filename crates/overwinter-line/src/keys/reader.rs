//! Takes values out of a file, checks them, and collects all that is wrong.

use std::ops::{Range, RangeInclusive};

use toml::Spanned;

use crate::problem::{Problem, likely};
use crate::shown::is_unprintable;
use crate::words::{count, plain};

/// Collects problems while a file is read.
#[derive(Debug, Default)]
pub(crate) struct Reader {
    pub(crate) problems: Vec<Problem>,
}

/// The share that a value was meant as, where a share is wanted and percent were given.
fn share_meant(value: f64, range: &RangeInclusive<f64>) -> Option<f64> {
    let of_shares = *range.start() >= 0.0 && *range.end() <= 1.0;
    let share = value / 100.0;
    (of_shares && value > 1.0 && range.contains(&share)).then_some(share)
}

impl Reader {
    /// Notes a problem.
    pub(crate) fn problem(&mut self, problem: Problem) {
        self.problems.push(problem);
    }

    /// A number within `range`, or `usual` if it is not given or not within.
    pub(crate) fn number(
        &mut self,
        given: Option<&Spanned<f64>>,
        key: &str,
        range: RangeInclusive<f64>,
        usual: f64,
    ) -> f64 {
        let Some(given) = given else { return usual };
        let value = *given.get_ref();
        if range.contains(&value) {
            return value;
        }
        let (low, high) = (plain(*range.start()), plain(*range.end()));
        let problem = Problem::at(
            given.span(),
            format!("`{key}` is {value}, which is out of range"),
            format!("expected {low} to {high}"),
        );
        self.problem(match share_meant(value, &range) {
            Some(share) => problem.help(format!(
                "did you mean {} %? Write the share: {key} = {}",
                plain(value),
                plain(share)
            )),
            None => problem,
        });
        usual
    }

    /// A whole number within `range`, or `usual`.
    pub(crate) fn whole(
        &mut self,
        given: Option<&Spanned<i64>>,
        key: &str,
        range: RangeInclusive<u8>,
        usual: u8,
    ) -> u8 {
        let Some(given) = given else { return usual };
        match u8::try_from(*given.get_ref()) {
            Ok(value) if range.contains(&value) => value,
            _ => {
                self.problem(Problem::at(
                    given.span(),
                    format!("`{key}` is {}, which is out of range", given.get_ref()),
                    format!(
                        "expected a whole number, {} to {}",
                        range.start(),
                        range.end()
                    ),
                ));
                usual
            }
        }
    }

    /// One of `choices` by its name, or `usual`.
    pub(crate) fn choice<T: Copy>(
        &mut self,
        given: Option<&Spanned<String>>,
        key: &str,
        choices: &[(&'static str, T)],
        usual: T,
    ) -> T {
        let Some(given) = given else { return usual };
        if let Some((_, value)) = choices.iter().find(|(name, _)| name == given.get_ref()) {
            return *value;
        }
        let names: Vec<&str> = choices.iter().map(|(name, _)| *name).collect();
        self.unknown(given, key, &names);
        usual
    }

    /// Notes that a name is not known.
    pub(crate) fn unknown(&mut self, given: &Spanned<String>, key: &str, known: &[&str]) {
        let problem = Problem::at(
            given.span(),
            format!("`{key}` is \"{}\", which is not known", given.get_ref()),
            format!("expected one of: {}", known.join(", ")),
        );
        self.problem(match likely(given.get_ref(), known) {
            Some(advice) => problem.help(advice),
            None => problem,
        });
    }

    /// A text that goes out again as it stands, in tables, pictures and files: of at most `longest`
    /// characters, none of which does anything but stand there.
    pub(crate) fn printed(&mut self, given: &Spanned<String>, key: &str, longest: usize) -> String {
        let text = given.get_ref();
        let length = text.chars().count();
        let unprintable = text.chars().find(|character| is_unprintable(*character));
        if let Some(character) = unprintable {
            self.problem(Problem::at(
                given.span(),
                format!(
                    "`{key}` holds a character that cannot be printed, {}",
                    character.escape_unicode()
                ),
                "expected letters, digits and signs on one line",
            ));
        } else if length > longest {
            self.problem(Problem::at(
                given.span(),
                format!("`{key}` has {length} characters"),
                format!("expected at most {longest}"),
            ));
        }
        text.clone()
    }

    /// Exactly `N` numbers within `range`.
    pub(crate) fn numbers<const N: usize>(
        &mut self,
        given: &Spanned<Vec<f64>>,
        key: &str,
        range: RangeInclusive<f64>,
    ) -> Option<[f64; N]> {
        let given_count = given.get_ref().len();
        let Ok(values) = <[f64; N]>::try_from(given.get_ref().as_slice()) else {
            let problem = Problem::at(
                given.span(),
                format!("`{key}` has {}", count(given_count, "value")),
                format!("expected {N}"),
            );
            // Up to twice as many are what decimal commas make of them.
            self.problem(if (N + 1..=2 * N).contains(&given_count) {
                problem
                    .help("commas divide values; decimals are written with a point: 7.5, not 7,5")
            } else {
                problem
            });
            return None;
        };
        if let Some(value) = values.iter().find(|value| !range.contains(value)) {
            let (low, high) = (plain(*range.start()), plain(*range.end()));
            let problem = Problem::at(
                given.span(),
                format!("`{key}` holds {value}, which is out of range"),
                format!("expected {low} to {high} each"),
            );
            self.problem(match share_meant(*value, &range) {
                Some(share) => problem.help(format!(
                    "did you mean {} %? Write shares: {}",
                    plain(*value),
                    plain(share)
                )),
                None => problem,
            });
            return None;
        }
        Some(values)
    }

    /// A value that must be there.
    pub(crate) fn required<T: Clone>(
        &mut self,
        given: Option<&Spanned<T>>,
        key: &str,
        section: Range<usize>,
        help: &str,
    ) -> Option<T> {
        if given.is_none() {
            self.problem(
                Problem::at(section, format!("`{key}` is missing"), "expected here").help(help),
            );
        }
        given.map(|value| value.get_ref().clone())
    }
}
