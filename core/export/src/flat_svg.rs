//! Flat patterns as SVG in mm, a group a layer, each line with an id of its own.

use crate::flat::{self, Corner, Flat, Layer, Shape};
use crate::flat_dxf::found;
use crate::format::{Entry, Format};
use std::fmt::Write as _;

pub(crate) const FORMAT: Format = Format {
    id: "svg",
    folder: "flat",
    media_type: "image/svg+xml",
    entries: |subject| {
        let entry = |(name, about): (String, String)| Entry { name: format!("{name}.svg"), about };
        flat::listed(subject).into_iter().map(entry).collect()
    },
    write: |subject, name, _| Ok(write(&found(subject, name, ".svg")?).into_bytes()),
};

/// Room round the pattern for its text, mm: beside and above it, and below.
const BESIDE: f64 = 5.0;
const BELOW: f64 = 70.0;

/// Least width, so that text is not cut off, mm.
const LEAST_WIDTH: f64 = 170.0;

fn write(flat: &Flat) -> String {
    let [low, high] = flat.bounds;
    let (left, top) = (low[0] - BESIDE, high[1] + BESIDE);
    let (width, height) = ((high[0] - low[0] + 2.0 * BESIDE).max(LEAST_WIDTH), top - low[1] + BELOW);
    let (width, height) = (figure(width), figure(height));
    let mut out = format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{width}mm\" height=\"{height}mm\" viewBox=\"{} {} {width} {height}\" \
         fill=\"none\" stroke-width=\"0.1\">\n<title>{}</title>\n",
        figure(left),
        figure(-top),
        escaped(&flat.about)
    );
    for layer in Layer::ALL {
        let ink = match layer {
            Layer::Cut => "stroke=\"#f00\"",
            Layer::Mark => "stroke=\"#00f\"",
            Layer::Text => "fill=\"#080\" font-family=\"sans-serif\"",
        };
        let _ = writeln!(out, "<g id=\"{}\" {ink}>", layer.name());
        for shape in &flat.shapes {
            write_shape(&mut out, layer, shape);
        }
        out.push_str("</g>\n");
    }
    out.push_str("</svg>\n");
    out
}

fn write_shape(out: &mut String, wanted: Layer, shape: &Shape) {
    let _ = match shape {
        Shape::Contour { id, layer, corners, closed } if *layer == wanted => {
            writeln!(out, "<path id=\"{}\" d=\"{}\"/>", escaped(id), path(corners, *closed))
        }
        Shape::Circle { id, layer, centre: [x, y], radius } if *layer == wanted => {
            let (x, y, radius) = (figure(*x), figure(-y), figure(*radius));
            writeln!(out, "<circle id=\"{}\" cx=\"{x}\" cy=\"{y}\" r=\"{radius}\"/>", escaped(id))
        }
        Shape::Text { id, at: [x, y], height, content } if wanted == Layer::Text => {
            let (x, y, size) = (figure(*x), figure(-y), figure(height / 0.72));
            writeln!(
                out,
                "<text id=\"{}\" x=\"{x}\" y=\"{y}\" font-size=\"{size}\">{}</text>",
                escaped(id),
                escaped(content)
            )
        }
        _ => Ok(()),
    };
}

/// Straight steps and true arcs.
fn path(corners: &[Corner], closed: bool) -> String {
    let mut d = String::new();
    for (at, corner) in corners.iter().enumerate() {
        let [x, y] = corner.at;
        let before = if at > 0 { corners.get(at - 1) } else { None };
        match before {
            None => {
                let _ = write!(d, "M{} {}", figure(x), figure(-y));
            }
            Some(before) => step(&mut d, before, corner.at),
        }
    }
    if let (true, Some(first), Some(last)) = (closed, corners.first(), corners.last()) {
        if last.bulge != 0.0 {
            step(&mut d, last, first.at);
        }
        d.push('Z');
    }
    d
}

fn step(d: &mut String, from: &Corner, [x, y]: [f64; 2]) {
    let (to_x, to_y) = (figure(x), figure(-y));
    let _ = if from.bulge == 0.0 {
        write!(d, "L{to_x} {to_y}")
    } else {
        // DXF's bulge b: radius = chord (1 + b^2) / (4 |b|), more than half round where |b| > 1.
        let chord = libm::hypot(x - from.at[0], y - from.at[1]);
        let radius = figure(chord * (1.0 + from.bulge * from.bulge) / (4.0 * from.bulge.abs()));
        let (large, sweep) = (u8::from(from.bulge.abs() > 1.0), u8::from(from.bulge < 0.0));
        write!(d, "A{radius} {radius} 0 {large} {sweep} {to_x} {to_y}")
    };
}

/// To a ten-thousandth of a millimetre.
fn figure(value: f64) -> f64 {
    let rounded = (value * 1e4).round() / 1e4;
    if rounded == 0.0 { 0.0 } else { rounded }
}

fn escaped(text: &str) -> String {
    text.replace('&', "&amp;").replace('<', "&lt;").replace('>', "&gt;").replace('"', "&quot;")
}
