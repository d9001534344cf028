//! What the documentation shows is what the program does.
//!
//! `INSTA_UPDATE=always` rewrites the README's block and its picture, as it does the snapshots.

use std::path::{Path, PathBuf};

use overwinter_line::line::Figure;

use crate::sandbox::{LINE, Sandbox};

fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../..")
}

fn read(name: &str) -> String {
    std::fs::read_to_string(root().join(name)).expect(name)
}

/// Whether files are to be rewritten in place of being compared.
fn refresh() -> bool {
    std::env::var_os("INSTA_UPDATE").is_some_and(|value| value == "always")
}

#[test]
fn readme_shows_what_its_first_command_prints_and_draws() {
    let sandbox = Sandbox::new();
    let example = root().join("examples/northern-winter.toml");
    let example = example.to_str().expect("a path in UTF-8");
    let printed = sandbox
        .run(&["forecast", example, "--plot", "season.svg"])
        .good();
    let drawn = std::fs::read_to_string(sandbox.path().join("season.svg")).expect("the picture");

    let readme = read("README.md");
    let (before, rest) = readme.split_once("```text\n").expect("a block of output");
    let (shown, after) = rest.split_once("```\n").expect("the block's end");
    if refresh() {
        let readme = format!("{before}```text\n{printed}```\n{after}");
        std::fs::write(root().join("README.md"), readme).expect("README.md");
        std::fs::write(root().join("examples/northern-winter.svg"), drawn).expect("the picture");
        return;
    }
    assert_eq!(shown, printed);
    assert!(
        read("examples/northern-winter.svg") == drawn,
        "the README's picture is an old one"
    );
}

#[test]
fn readme_carries_the_ten_line_example_as_it_is() {
    let example = read("examples/first-camera.toml");
    assert!(read("README.md").contains(&format!("```toml\n{example}```")));
}

/// The keys of a section, as the program tells them to somebody who misspells one.
fn keys_of(section: &str) -> Vec<String> {
    let sandbox = Sandbox::new();
    let header = format!("[{section}]\n");
    let spoilt = if LINE.contains(&header) {
        LINE.replace(&header, &format!("{header}qqqqqqqq = 1\n"))
    } else {
        format!("{LINE}\n{header}qqqqqqqq = 1\n")
    };
    sandbox.write("line.toml", &spoilt);
    let told = sandbox.run(&["check", "line.toml"]).refused();
    let (_, list) = told.split_once("known here: ").expect(&told);
    let words = list.split([',', ' ', '\n']).map(str::trim);
    let keys = words.filter(|word| word.chars().all(|c| c.is_ascii_lowercase() || c == '_'));
    keys.filter(|word| !word.is_empty())
        .map(str::to_owned)
        .collect()
}

#[test]
fn every_key_is_explained_in_its_section() {
    let reference = read("LINE.md");
    for section in [
        "site",
        "site.normals",
        "season",
        "pack",
        "activity",
        "settings",
        "panel",
        "prices",
        "draw",
    ] {
        let keys = keys_of(section);
        assert!(keys.len() >= 2, "{section}: {keys:?}");
        let heading = format!("\n## `[{section}]`\n");
        let (_, from_here) = reference.split_once(&heading).expect(&heading);
        let (explained, _) = from_here.split_once("\n## ").expect("a section after it");
        for key in keys {
            let told = [format!("`{key}`"), format!("`[{section}.{key}]`")];
            let is_told = told.iter().any(|told| explained.contains(told));
            assert!(is_told, "[{section}] {key}");
        }
    }
}

#[test]
fn every_figure_of_a_camera_has_its_note() {
    let notes = read("datasheets-notes/loads.md");
    for figure in Figure::ALL {
        let key = figure.key();
        assert!(notes.contains(&format!("`{key}`")), "{key}");
    }
}
