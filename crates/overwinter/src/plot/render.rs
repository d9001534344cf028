//! Pictures as SVG text and as PNG bytes.

use std::sync::Once;

use overwinter_line::problem::Failure;
use plotters::coord::Shift;
use plotters::prelude::{
    BitMapBackend, Circle, DrawingArea, DrawingBackend, IntoDrawingArea, PathElement, Polygon,
    SVGBackend,
};
use plotters::style::text_anchor::{HPos, Pos, VPos};
use plotters::style::{
    Color, FontStyle, FontTransform, IntoFont, ShapeStyle, TextStyle, register_font,
};

use super::course::{dashes, without_turns};
use super::letters::FONT;
use super::picture::{Align, Mark, PAPER, Picture, Stroke, Text, WIDTH};

/// What the SVG writer divides a font's size by to come to the em.
const DRAWING_EM: f64 = 1.24;

/// The same for pixels: from the highest to the lowest letter of the registered font, in ems.
pub(super) const PIXEL_EM: f64 = 1.121;

/// How far a text must be moved down for its letters to stand around its place, in ems; found by
/// looking.
const DRAWING_DROP: f64 = 0.07;

/// The same for pixels.
const PIXEL_DROP: f64 = 0.23;

/// How a medium treats letters and lines.
#[derive(Clone, Copy)]
struct Medium {
    em: f64,
    drop: f64,
    /// Has a bold face of its own.
    bold_face: bool,
    /// Joins lines cleanly, however sharp they turn.
    joins: bool,
}

/// Makes the letters for pixels known, and for measuring.
pub(super) fn register_letters() {
    static REGISTERED: Once = Once::new();
    REGISTERED.call_once(|| {
        // It fails only for bytes that are no font; then texts are left out of pixels and the
        // tests show it.
        let _ = register_font("sans-serif", FontStyle::Normal, FONT);
    });
}

/// The picture as SVG. It opens half as large as its units.
pub(super) fn svg(picture: &Picture) -> Result<String, Failure> {
    let mut text = String::new();
    let medium = Medium {
        em: DRAWING_EM,
        drop: DRAWING_DROP,
        bold_face: true,
        joins: true,
    };
    let size = size_of(picture);
    draw(
        SVGBackend::with_string(&mut text, size).into_drawing_area(),
        picture,
        medium,
    )?;
    let (width, height) = size;
    let full = format!("width=\"{width}\" height=\"{height}\" viewBox");
    let half = format!(
        "width=\"{}\" height=\"{}\" viewBox",
        width / 2,
        height.div_ceil(2)
    );
    let text = text.replacen(&full, &half, 1);
    Ok(text.replacen('\n', &format!("\n{SVG_MARK}\n"), 1))
}

/// What tells a drawing of this program from others.
const SVG_MARK: &str = "<!-- written by overwinter -->";

/// What tells a PNG of this program from others: the keyword for it of the PNG standard (ISO/IEC 15948,
/// 11.3.4), and a value.
const PNG_MARK: (&str, &str) = ("Software", "overwinter");

/// Whether a file that begins so is a drawing of this program.
pub(super) fn is_own_svg(head: &[u8]) -> bool {
    let mark = SVG_MARK.as_bytes();
    head.starts_with(b"<svg ") && head.windows(mark.len()).any(|part| part == mark)
}

/// Whether a file that begins so is a picture in pixels of this program.
pub(super) fn is_own_png(head: &[u8]) -> bool {
    let (keyword, value) = PNG_MARK;
    let mark = format!("tEXt{keyword}\0{value}");
    head.starts_with(b"\x89PNG") && head.windows(mark.len()).any(|part| part == mark.as_bytes())
}

/// The picture as PNG, one pixel a unit.
pub(super) fn png(picture: &Picture) -> Result<Vec<u8>, Failure> {
    let (width, height) = size_of(picture);
    let mut pixels = vec![0; 3 * width as usize * height as usize];
    let medium = Medium {
        em: PIXEL_EM,
        drop: PIXEL_DROP,
        bold_face: false,
        joins: false,
    };
    let backend = BitMapBackend::with_buffer(&mut pixels, (width, height));
    draw(backend.into_drawing_area(), picture, medium)?;
    let mut bytes = Vec::new();
    let mut encoder = png::Encoder::new(&mut bytes, width, height);
    encoder.set_color(png::ColorType::Rgb);
    let (keyword, value) = PNG_MARK;
    encoder
        .add_text_chunk(keyword.to_owned(), value.to_owned())
        .map_err(not_drawn)?;
    encoder
        .write_header()
        .and_then(|mut writer| {
            writer.write_image_data(&pixels)?;
            writer.finish()
        })
        .map_err(not_drawn)?;
    Ok(bytes)
}

fn size_of(picture: &Picture) -> (u32, u32) {
    (WIDTH.unsigned_abs(), picture.height.unsigned_abs())
}

fn not_drawn(why: impl std::fmt::Display) -> Failure {
    Failure::Run(format!("the picture cannot be drawn: {why}"))
}

fn draw<DB: DrawingBackend>(
    area: DrawingArea<DB, Shift>,
    picture: &Picture,
    medium: Medium,
) -> Result<(), Failure> {
    register_letters();
    area.fill(&PAPER).map_err(not_drawn)?;
    for mark in &picture.marks {
        match mark {
            Mark::Path(points, stroke) => draw_path(&area, points, *stroke, medium),
            Mark::Area(points, fill) => area.draw(&Polygon::new(points.as_slice(), fill.filled())),
            Mark::Text(text) => draw_text(&area, text, medium),
        }
        .map_err(not_drawn)?;
    }
    area.present().map_err(not_drawn)
}

type Drawn<DB> =
    Result<(), plotters::drawing::DrawingAreaErrorKind<<DB as DrawingBackend>::ErrorType>>;

fn draw_path<DB: DrawingBackend>(
    area: &DrawingArea<DB, Shift>,
    points: &[(i32, i32)],
    stroke: Stroke,
    medium: Medium,
) -> Drawn<DB> {
    let style = ShapeStyle::from(&stroke.colour).stroke_width(stroke.width);
    let draw = |line: &[(i32, i32)]| {
        if medium.joins {
            area.draw(&PathElement::new(line, style))
        } else {
            draw_pieces(area, line, style)
        }
    };
    match stroke.dash {
        None => draw(points),
        Some((dash, gap)) => dashes(points, dash, gap)
            .iter()
            .try_for_each(|dash| draw(dash)),
    }
}

/// A line with round joins where it turns back: the backend for pixels makes one outline of all of it,
/// which at such a turn reaches far beyond the line.
fn draw_pieces<DB: DrawingBackend>(
    area: &DrawingArea<DB, Shift>,
    line: &[(i32, i32)],
    style: ShapeStyle,
) -> Drawn<DB> {
    let pieces = without_turns(line);
    for (place, piece) in pieces.iter().enumerate() {
        area.draw(&PathElement::new(piece.as_slice(), style))?;
        if let (true, Some(&join)) = (place > 0, piece.first()) {
            area.draw(&Circle::new(join, style.stroke_width / 2, style.filled()))?;
        }
    }
    Ok(())
}

fn draw_text<DB: DrawingBackend>(
    area: &DrawingArea<DB, Shift>,
    text: &Text,
    medium: Medium,
) -> Drawn<DB> {
    let em = f64::from(text.size);
    let face = if text.bold && medium.bold_face {
        FontStyle::Bold
    } else {
        FontStyle::Normal
    };
    let turn = if text.upright {
        FontTransform::Rotate270
    } else {
        FontTransform::None
    };
    let across = match text.align {
        Align::Left => HPos::Left,
        Align::Middle => HPos::Center,
        Align::Right => HPos::Right,
    };
    let font = ("sans-serif", em * medium.em, face)
        .into_font()
        .transform(turn);
    let style = TextStyle::from(font)
        .color(&text.colour)
        .pos(Pos::new(across, VPos::Center));
    // Rounded to whole units, far below the range of an i32.
    let drop = (em * medium.drop).round() as i32;
    let (x, y) = text.at;
    let at = if text.upright {
        (x + drop, y)
    } else {
        (x, y + drop)
    };
    // The font for pixels is a light one: struck twice it is ordinary, three times bold.
    let strikes = match (medium.bold_face, text.bold) {
        (true, _) => 1,
        (false, false) => 2,
        (false, true) => 4,
    };
    for strike in 0..strikes {
        let (dx, dy) = if text.upright {
            (0, strike)
        } else {
            (strike, 0)
        };
        area.draw_text(&text.text, &style, (at.0 + dx, at.1 + dy))?;
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::plot::picture::INK;

    /// Rows of a picture's pixels that are not paper, from its PNG.
    fn inked_rows(picture: &Picture) -> Vec<usize> {
        let bytes = png(picture).expect("a PNG");
        let decoder = png::Decoder::new(std::io::Cursor::new(bytes));
        let mut reader = decoder.read_info().expect("a header");
        let mut pixels = vec![0; reader.output_buffer_size().expect("a size")];
        reader.next_frame(&mut pixels).expect("pixels");
        let rows = pixels.chunks(3 * WIDTH as usize).enumerate();
        rows.filter(|(_, row)| row.iter().any(|byte| *byte < 0xf0))
            .map(|(place, _)| place)
            .collect()
    }

    #[test]
    fn strokes_up_and_down_have_no_spikes_in_pixels() {
        // Steep, straight and slightly slanted turns: the outline of such a line has reached far above
        // and below it.
        for lean in 0..4 {
            for width in [3, 6, 7] {
                let saw = (0..40).flat_map(|tooth| {
                    let x = 100 + 12 * tooth;
                    [
                        (x, 200),
                        (x + lean, 400),
                        (x + 2 * lean, 199),
                        (x + 11, 203),
                    ]
                });
                let mut picture = Picture::new();
                picture.height = 600;
                picture.path(saw.collect::<Vec<_>>(), Stroke::solid(INK, width));
                let rows = inked_rows(&picture);
                let reach = width as usize + 1;
                assert!(rows[0] >= 199 - reach, "{lean} {width}: {}", rows[0]);
                let last = rows[rows.len() - 1];
                assert!(
                    (400..=400 + reach).contains(&last),
                    "{lean} {width}: {last}"
                );
            }
        }
    }
}
