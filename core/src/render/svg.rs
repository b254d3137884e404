//! A page's drawing as SVG in millimetres.

use std::fmt::Write as _;

use super::Letters;
use super::fonts::em;
use crate::drawing::{Anchor, Drawing, Ink, Item, Path, Segment, Text, Turn, Weight};

/// Writes a page of `size` mm as a standalone SVG file whose unit is 1 mm.
///
/// Each text states its own length, so that another typeface on the reader's machine cannot make it run into its neighbours.
#[must_use]
pub fn write_svg(title: &str, size: [f64; 2], drawing: &Drawing, letters: &Letters) -> String {
    let [width, height] = size;
    let mut out = format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{width}mm\" height=\"{height}mm\" viewBox=\"0 0 {width} {height}\" \
         font-family=\"'DejaVu Sans Condensed','DejaVu Sans',sans-serif\" fill=\"none\" stroke-linejoin=\"round\">\n\
         <title>{}</title>\n<rect width=\"{width}\" height=\"{height}\" fill=\"#fff\"/>\n",
        escape(title)
    );
    for item in &drawing.items {
        match item {
            Item::Path(path) => write_path(&mut out, path, height),
            Item::Text(text) => write_text(&mut out, text, height, letters),
        }
    }
    out.push_str("</svg>\n");
    out
}

fn write_path(out: &mut String, path: &Path, height: f64) {
    out.push_str("<path d=\"");
    for segment in &path.segments {
        match segment {
            Segment::Move(p) => put(out, "M", &[*p], height),
            Segment::Line(p) => put(out, "L", &[*p], height),
            Segment::Curve(points) => put(out, "C", points, height),
            Segment::Close => out.push('Z'),
        }
    }
    out.push('"');
    if let Some(pen) = path.pen {
        #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
        let grey = (pen.lightness() * 255.0).round() as u8;
        let _ = write!(out, " stroke=\"#{grey:02x}{grey:02x}{grey:02x}\" stroke-width=\"{}\"", pen.width());
        if !pen.dashes().is_empty() {
            let dashes: Vec<_> = pen.dashes().iter().map(f64::to_string).collect();
            let _ = write!(out, " stroke-dasharray=\"{}\"", dashes.join(" "));
        }
    }
    if let Some(ink) = path.fill {
        let _ = write!(out, " fill=\"{}\"", colour(ink));
    }
    out.push_str("/>\n");
}

fn put(out: &mut String, command: &str, points: &[[f64; 2]], height: f64) {
    out.push_str(command);
    for (index, [x, y]) in points.iter().enumerate() {
        if index > 0 {
            out.push(' ');
        }
        let _ = write!(out, "{} {}", round(*x), round(height - y));
    }
}

fn write_text(out: &mut String, text: &Text, height: f64, letters: &Letters) {
    let (x, y) = (round(text.at[0]), round(height - text.at[1]));
    let _ = write!(
        out,
        "<text x=\"{x}\" y=\"{y}\" font-size=\"{}\" textLength=\"{}\" lengthAdjust=\"spacingAndGlyphs\" fill=\"{}\"",
        round(em(text.lettering)),
        round(letters.width(&text.content, text.lettering, text.face)),
        colour(text.ink)
    );
    match text.anchor {
        Anchor::Start => {}
        Anchor::Middle => out.push_str(" text-anchor=\"middle\""),
        Anchor::End => out.push_str(" text-anchor=\"end\""),
    }
    if text.face == Weight::Bold {
        out.push_str(" font-weight=\"bold\"");
    }
    let degrees = match text.turn {
        Turn::None => 0,
        Turn::Quarter => -90,
        Turn::Half => 180,
        Turn::ThreeQuarters => 90,
    };
    if degrees != 0 {
        let _ = write!(out, " transform=\"rotate({degrees} {x} {y})\"");
    }
    let _ = writeln!(out, ">{}</text>", escape(&text.content));
}

fn colour(ink: Ink) -> &'static str {
    match ink {
        Ink::Black => "#000",
        Ink::White => "#fff",
    }
}

/// Ten-thousandths of a millimetre: far below what is asked of the print, and short to write.
fn round(value: f64) -> f64 {
    (value * 1e4).round() / 1e4
}

fn escape(text: &str) -> String {
    text.replace('&', "&amp;").replace('<', "&lt;").replace('>', "&gt;").replace('"', "&quot;")
}
