//! The letters of pictures made of pixels: those of the font that comes with the program.

use ab_glyph::{Font, FontRef};

use super::picture::{Mark, Picture};
use crate::notice;

/// The font: a light one, whatever a text's weight.
pub(super) const FONT: &[u8] = epaint_default_fonts::UBUNTU_LIGHT;

/// The most texts that are named.
const MOST_NAMED: usize = 5;

/// Says which texts of a picture have letters that the font lacks, if any: boxes stand in their place.
pub(super) fn warn_of_lacking(picture: &Picture) {
    let lacking = lacking(picture);
    if lacking.is_empty() {
        return;
    }
    let named = lacking.iter().take(MOST_NAMED);
    let mut names = named
        .map(|text| format!("`{text}`"))
        .collect::<Vec<_>>()
        .join(", ");
    let beyond = lacking.len().saturating_sub(MOST_NAMED);
    if beyond > 0 {
        names += &format!(" and {beyond} more");
    }
    notice::warn(
        &format!("the picture shows empty boxes in {names}: a .png has not all of their letters"),
        Some("end the picture's name in .svg: that is drawn with the fonts of whoever opens it"),
    );
}

/// Texts of a picture with letters that the font lacks, each once.
pub(super) fn lacking(picture: &Picture) -> Vec<&str> {
    let Ok(font) = FontRef::try_from_slice(FONT) else {
        // Then there are no letters at all, which the tests would show.
        return Vec::new();
    };
    // Number 0 stands for whatever a font lacks (OpenType, table `cmap`).
    let is_lacking = |character| font.glyph_id(character).0 == 0;
    let mut texts: Vec<&str> = Vec::new();
    for mark in &picture.marks {
        if let Mark::Text(text) = mark
            && text.text.contains(is_lacking)
            && !texts.contains(&text.text.as_str())
        {
            texts.push(&text.text);
        }
    }
    texts
}
