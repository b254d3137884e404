//! A page's drawing as a PDF content stream (ISO 32000-1, clauses 8 and 9), written straight to bytes.
//!
//! Coordinates are rounded once, to 0.001 pt (0.35 micrometres), so that the same drawing gives the same bytes on every machine.

use super::Letters;
use super::fonts::{before_anchor, em};
use crate::drawing::{Drawing, Ink, Item, Lettering, Path, Pen, Point, Segment, Text, Turn, Weight};

/// Points a millimetre.
pub(super) const POINTS: f64 = 72.0 / 25.4;

/// Number of each character's glyph in the subset of its face; 0, the font's sign for none, where it has no number.
#[derive(Debug, Default)]
pub(super) struct GlyphNumbers {
    by_code: [Vec<u16>; 2],
}

impl GlyphNumbers {
    /// Gives a character its number.
    pub(super) fn set(&mut self, face: Weight, character: char, number: u16) {
        let numbers = &mut self.by_code[face as usize];
        let code = character as usize;
        if numbers.len() <= code {
            numbers.resize(code + 1, 0);
        }
        numbers[code] = number;
    }

    fn of(&self, face: Weight, character: char) -> u16 {
        let numbers = &self.by_code[face as usize];
        numbers.get(character as usize).copied().unwrap_or(0)
    }
}

/// Name of a face among the resources of a page.
pub(super) fn resource_name(face: Weight) -> &'static str {
    match face {
        Weight::Regular => "LR",
        Weight::Bold => "LB",
    }
}

/// Writes the content stream of a drawing that has passed the page check. `stretch` is what lengths across and up the page are
/// multiplied by.
pub(super) fn write_content(
    drawing: &Drawing,
    stretch: [f64; 2],
    letters: &Letters,
    numbers: &GlyphNumbers,
) -> Vec<u8> {
    let mut stream = Stream { bytes: Vec::with_capacity(32 * 1024), pen: None, ink: Ink::Black, font: None };
    // What follows on the page, its seal, starts from the state that this leaves behind.
    stream.word("q");
    if stretch != [1.0; 2] {
        stream.bytes.extend(format!("{:.6} 0 0 {:.6} 0 0 cm\n", stretch[0], stretch[1]).bytes());
    }
    stream.word("1 J 1 j");
    for item in &drawing.items {
        match item {
            Item::Path(path) => stream.path(path),
            Item::Text(text) => stream.text(text, letters, numbers),
        }
    }
    stream.word("Q");
    stream.bytes
}

struct Stream {
    bytes: Vec<u8>,
    pen: Option<Pen>,
    ink: Ink,
    font: Option<(Weight, Lettering)>,
}

impl Stream {
    fn word(&mut self, word: &str) {
        self.bytes.extend_from_slice(word.as_bytes());
        self.bytes.push(b'\n');
    }

    /// Thousandths of a point as a decimal without trailing zeros.
    fn thousandths(&mut self, value: i64) {
        let magnitude = value.unsigned_abs();
        let (mut whole, mut part, mut places) = (magnitude / 1000, magnitude % 1000, 3);
        let mut digits = [b' '; 24];
        // Before the space at the end.
        let mut at = digits.len() - 1;
        let mut put = |byte: u8| {
            at -= 1;
            digits[at] = byte;
        };
        while part % 10 == 0 && places > 0 {
            part /= 10;
            places -= 1;
        }
        for place in 0..places {
            put(digit(part));
            part /= 10;
            if place + 1 == places {
                put(b'.');
            }
        }
        loop {
            put(digit(whole));
            whole /= 10;
            if whole == 0 {
                break;
            }
        }
        if value < 0 {
            put(b'-');
        }
        self.bytes.extend_from_slice(&digits[at..]);
    }

    fn length(&mut self, mm: f64) {
        self.thousandths(nearest(mm * POINTS * 1000.0));
    }

    fn point(&mut self, [x, y]: Point) {
        self.length(x);
        self.length(y);
    }

    fn take_pen(&mut self, pen: Pen) {
        if self.pen == Some(pen) {
            return;
        }
        let had_dashes = self.pen.is_some_and(|old| !old.dashes().is_empty());
        let lightness = pen.lightness();
        if lightness != self.pen.map_or(0.0, Pen::lightness) {
            self.thousandths(nearest(lightness * 1000.0));
            self.word("G");
        }
        self.length(pen.width());
        self.word("w");
        if had_dashes || !pen.dashes().is_empty() {
            self.bytes.push(b'[');
            for dash in pen.dashes() {
                self.length(*dash);
            }
            self.word("] 0 d");
        }
        // Round caps would lengthen dashes and the ends of check bars: butt caps for all that is measured.
        self.word(match pen {
            Pen::Measure | Pen::Relief | Pen::Axis | Pen::Hidden => "0 J",
            Pen::Cut | Pen::Edge | Pen::Thin | Pen::View | Pen::Standing | Pen::Rule => "1 J",
        });
        self.pen = Some(pen);
    }

    fn take_ink(&mut self, ink: Ink) {
        if self.ink != ink {
            self.word(match ink {
                Ink::Black => "0 g",
                Ink::White => "1 g",
            });
            self.ink = ink;
        }
    }

    fn path(&mut self, path: &Path) {
        if let Some(pen) = path.pen {
            self.take_pen(pen);
        }
        if let Some(ink) = path.fill {
            self.take_ink(ink);
        }
        for segment in &path.segments {
            match segment {
                Segment::Move(p) => {
                    self.point(*p);
                    self.word("m");
                }
                Segment::Line(p) => {
                    self.point(*p);
                    self.word("l");
                }
                Segment::Curve(points) => {
                    for p in points {
                        self.point(*p);
                    }
                    self.word("c");
                }
                Segment::Close => self.word("h"),
            }
        }
        self.word(match (path.pen, path.fill) {
            (Some(_), Some(_)) => "B",
            (Some(_), None) => "S",
            (None, Some(_)) => "f",
            (None, None) => "n",
        });
    }

    fn text(&mut self, text: &Text, letters: &Letters, numbers: &GlyphNumbers) {
        self.take_ink(text.ink);
        let before = before_anchor(text.anchor, letters.width(&text.content, text.lettering, text.face));
        let back = text.turn.carry([before, 0.0]);
        self.word("BT");
        let font = Some((text.face, text.lettering));
        if self.font != font {
            self.bytes.push(b'/');
            self.bytes.extend_from_slice(resource_name(text.face).as_bytes());
            self.bytes.push(b' ');
            self.length(em(text.lettering));
            self.word("Tf");
            self.font = font;
        }
        self.bytes.extend_from_slice(match text.turn {
            Turn::None => b"".as_slice(),
            Turn::Quarter => b"0 1 -1 0 ",
            Turn::Half => b"-1 0 0 -1 ",
            Turn::ThreeQuarters => b"0 -1 1 0 ",
        });
        self.point([text.at[0] - back[0], text.at[1] - back[1]]);
        self.word(if text.turn == Turn::None { "Td" } else { "Tm" });
        self.bytes.push(b'(');
        for character in text.content.chars() {
            for byte in numbers.of(text.face, character).to_be_bytes() {
                match byte {
                    b'(' | b')' | b'\\' => self.bytes.extend_from_slice(&[b'\\', byte]),
                    // Left as it is, it would be read as a line feed.
                    b'\r' => self.bytes.extend_from_slice(b"\\r"),
                    _ => self.bytes.push(byte),
                }
            }
        }
        self.word(")Tj");
        self.word("ET");
    }
}

/// The nearest whole number.
#[allow(clippy::cast_possible_truncation)]
fn nearest(value: f64) -> i64 {
    (value + 0.5_f64.copysign(value)) as i64
}

/// The last digit of a number.
fn digit(value: u64) -> u8 {
    b'0' + u8::try_from(value % 10).unwrap_or(0)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::drawing::Area;
    use crate::render::letters;

    fn written(drawing: &Drawing) -> String {
        let bytes = write_content(drawing, [1.0; 2], letters().expect("compiled in"), &GlyphNumbers::default());
        String::from_utf8(bytes).expect("ASCII")
    }

    #[test]
    fn a_hundred_millimetres_are_283_465_thousandths() {
        // 100 mm = 283.4646 pt by the definitions of inch and point.
        let mut drawing = Drawing::default();
        drawing.line([0.0, 25.4], [100.0, 25.4], Pen::Measure);
        assert_eq!(written(&drawing), "q\n1 J 1 j\n0.709 w\n0 J\n0 72 m\n283.465 72 l\nS\nQ\n");
    }

    #[test]
    fn dashes_end_with_their_pen_and_decimals_keep_their_zeros() {
        let mut drawing = Drawing::default();
        drawing.line([-0.001, 0.02], [0.0, 0.0], Pen::Relief);
        drawing.path(Path::filled(Area { x: 0.0, y: 0.0, width: 25.4, height: 25.4 }, Ink::White));
        drawing.line([0.0, 0.0], [25.4, 25.4], Pen::Edge);
        let text = written(&drawing);
        assert!(text.contains("[8.504 4.252 ] 0 d"), "{text}");
        assert!(text.contains("-0.003 0.057 m"), "{text}");
        assert!(text.contains("1 g\n0 0 m\n72 0 l\n72 72 l\n0 72 l\nh\nf\n"), "{text}");
        assert!(text.contains("[] 0 d"), "{text}");
    }
}
