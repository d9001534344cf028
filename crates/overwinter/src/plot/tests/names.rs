//! Whatever names stand in pictures: an SVG is XML, and what a PNG lacks is known.

use overwinter_line::shown::visible;
use proptest::prelude::*;

use super::samples::every_kind;
use super::texts;
use crate::plot::picture::{Align, Mark, Picture, Text};
use crate::plot::{letters, render};

/// The texts of an SVG, as an XML parser reads them.
fn texts_of_svg(picture: &Picture) -> Vec<String> {
    let svg = render::svg(picture).expect("an SVG");
    let document = roxmltree::Document::parse(&svg).unwrap_or_else(|why| panic!("{why}\n{svg}"));
    let elements = document.descendants();
    let texts = elements.filter(|element| element.has_tag_name("text"));
    let text = |element: roxmltree::Node<'_, '_>| element.text().unwrap_or("").trim().to_owned();
    texts.map(text).collect()
}

#[test]
fn an_xml_parser_reads_every_kind_of_picture() {
    let name = "<a & \"b\"> \u{1b}'c' \u{fffe}\u{feff}\u{e000}\u{10ffff} \u{5c0f}\u{5c4b}";
    for mut picture in every_kind() {
        for mark in &mut picture.marks {
            if let Mark::Text(text) = mark {
                *text = Text::new(text.at, name, text.align);
            }
        }
        let read = texts_of_svg(&picture);
        assert_eq!(read.len(), texts(&picture).len());
        let shown = visible(name);
        assert!(read.iter().all(|text| *text == shown), "{read:?}");
    }
}

proptest! {
    #[test]
    fn an_xml_parser_reads_any_name(name in prop::collection::vec(any::<char>(), 1..40)) {
        let name: String = name.into_iter().collect();
        let mut picture = Picture::new();
        picture.height = 100;
        picture.text(Text::new((0, 50), name.as_str(), Align::Left));
        let shown = visible(&name);
        prop_assert_eq!(texts_of_svg(&picture), [shown.trim()]);
    }
}

#[test]
fn letters_that_the_font_lacks_are_found() {
    for picture in every_kind() {
        assert_eq!(letters::lacking(&picture), Vec::<&str>::new());
    }
    let mut picture = Picture::new();
    for name in [
        "\u{c4}sen",
        "\u{5c0f}\u{5c4b}",
        "\u{5c0f}\u{5c4b}",
        "ford \u{1f98c}",
    ] {
        picture.text(Text::new((0, 0), name, Align::Left));
    }
    let expected = ["\u{5c0f}\u{5c4b}", "ford \u{1f98c}"];
    assert_eq!(letters::lacking(&picture), expected);
}
