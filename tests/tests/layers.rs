//! No circle between the folders of a crate: each uses only what stands under it in `DEVELOPERS.md`.

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::{Path, PathBuf};

fn project() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("..")
}

/// The height of each folder, by crate, as the guide draws them: the lowest is 0.
fn layers() -> Vec<(String, BTreeMap<String, usize>)> {
    let guide = fs::read_to_string(project().join("DEVELOPERS.md")).expect("the guide");
    let drawn = guide.split("```text\n").nth(1).expect("the drawing");
    let drawn = drawn.split("```").next().expect("its end");
    let mut crates: Vec<(String, Vec<Vec<String>>)> = Vec::new();
    for line in drawn.lines() {
        match (line.strip_prefix("    "), crates.last_mut()) {
            (Some(names), Some((_, rows))) => {
                rows.push(names.split_whitespace().map(str::to_owned).collect());
            }
            _ => crates.push((line.to_owned(), Vec::new())),
        }
    }
    let by_height = |(name, rows): (String, Vec<Vec<String>>)| {
        let rows = rows.into_iter().rev().enumerate();
        let heights = rows.flat_map(|(height, row)| row.into_iter().map(move |it| (it, height)));
        (name, heights.collect())
    };
    crates.into_iter().map(by_height).collect()
}

/// Every source file below a folder.
fn sources(folder: &Path) -> Vec<PathBuf> {
    let mut found = Vec::new();
    for entry in fs::read_dir(folder).expect("a folder of sources") {
        let path = entry.expect("an entry").path();
        if path.is_dir() {
            found.extend(sources(&path));
        } else if path.extension().is_some_and(|it| it == "rs") {
            found.push(path);
        }
    }
    found
}

/// The code of a file without comments and without its tests.
fn code(path: &Path) -> String {
    let text = fs::read_to_string(path).expect("a source file");
    let text = text.split("#[cfg(test)]\nmod ").next().unwrap_or_default();
    let is_code = |line: &&str| !line.trim_start().starts_with("//");
    text.lines().filter(is_code).collect::<Vec<_>>().join("\n")
}

/// The names that stand right after each `of` in a text, alone or first in the parts of braces.
fn names_after(text: &str, of: &str) -> BTreeSet<String> {
    let mut names = BTreeSet::new();
    for rest in text.split(of).skip(1) {
        let used = match rest.strip_prefix('{') {
            Some(several) => several.split(';').next().unwrap_or_default(),
            None => rest
                .split([';', ':', '(', '<', ' ', ',', ')', '>', '\n'])
                .next()
                .unwrap_or_default(),
        };
        let mut depth = 0;
        for part in used.split_inclusive([',', '{', '}']) {
            if depth == 0 {
                let name = part.trim().trim_end_matches([',', '{', '}']);
                names.insert(name.split("::").next().unwrap_or_default().to_owned());
            }
            depth += part.matches('{').count();
            depth = depth.saturating_sub(part.matches('}').count());
        }
    }
    names
}

/// Where a crate's names come from that stand at its root: `pub use day::Day;`.
fn reexports(lib: &str) -> BTreeMap<String, String> {
    let mut from = BTreeMap::new();
    for rest in lib.split("pub use ").skip(1) {
        let used = rest.split(';').next().unwrap_or_default();
        let Some((folder, names)) = used.split_once("::") else {
            continue;
        };
        for name in names.split(['{', '}', ',']) {
            from.insert(name.trim().to_owned(), folder.to_owned());
        }
    }
    from
}

#[test]
fn every_folder_uses_only_those_under_it() {
    for (name, heights) in layers() {
        let root = project().join("crates").join(&name).join("src");
        let lib = code(&root.join("lib.rs"));
        let reexports = reexports(&lib);
        let mut uses = 0;
        let mut seen = BTreeSet::new();
        for path in sources(&root) {
            let below = path.strip_prefix(&root).expect("it is below");
            let first = below.components().next().expect("a name").as_os_str();
            let own = first.to_string_lossy().trim_end_matches(".rs").to_owned();
            let is_test = below.components().any(|part| {
                let part = part.as_os_str().to_string_lossy();
                part == "tests" || part == "tests.rs"
            });
            if own == "lib" || own == "main" || is_test {
                continue;
            }
            let height = heights.get(&own);
            let height = height.unwrap_or_else(|| panic!("{name}: {own} is not in the drawing"));
            seen.insert(own.clone());
            for used in names_after(&code(&path), "crate::") {
                let used = reexports.get(&used).unwrap_or(&used);
                let Some(under) = heights.get(used).filter(|_| *used != own) else {
                    continue;
                };
                uses += 1;
                assert!(
                    under < height,
                    "{name}: {own} uses {used}: {}",
                    path.display()
                );
            }
        }
        assert_eq!(
            seen.len(),
            heights.len(),
            "{name}: the drawing has more than there is"
        );
        assert!(uses > 5, "{name}: {uses} uses were found");
    }
}
