//! Names that somebody may have meant.

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

/// Advice with the names that are near a misspelt one; `None` if none is.
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
