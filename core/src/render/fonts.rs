//! The lettering: DejaVu Sans Condensed, regular and bold, with its widths.
//!
//! The two faces are compiled in and read once a process; what is kept never changes.

use std::sync::OnceLock;

use printpdf::ParsedFont;

use super::RenderError;
use crate::drawing::{Anchor, Area, Lettering, Text, Weight};

/// Height of a capital of DejaVu Sans Condensed as a share of the em: 1493 of 2048 units, the top of the H in its glyf table.
const CAPITAL: f64 = 1493.0 / 2048.0;
/// Depth of the letters g, p, q below the base line and height of brackets above it, as shares of the em.
const BELOW: f64 = 0.24;
const ABOVE: f64 = 0.77;

/// One face of the lettering.
#[derive(Debug)]
pub(super) struct FaceTable {
    /// The whole font file.
    pub(super) bytes: &'static [u8],
    /// The font as printpdf reads it, for its metrics.
    pub(super) parsed: ParsedFont,
    /// Glyph and advance, in thousandths of the em, of each character that is set, by its code.
    glyphs: Vec<Option<(u16, u16)>>,
}

/// Both faces of the lettering with their widths.
#[derive(Debug)]
pub struct Letters {
    regular: FaceTable,
    bold: FaceTable,
}

/// The lettering, read at the first call of a process.
///
/// # Errors
/// [`RenderError::Lettering`] when the font that is compiled in cannot be read.
pub fn letters() -> Result<&'static Letters, RenderError> {
    static LETTERS: OnceLock<Option<Letters>> = OnceLock::new();
    LETTERS
        .get_or_init(|| {
            Some(Letters {
                regular: read_face(dejavu::sans_condensed::regular())?,
                bold: read_face(dejavu::sans_condensed::bold())?,
            })
        })
        .as_ref()
        .ok_or_else(|| RenderError::Lettering { reason: "the font compiled into the program is damaged".to_owned() })
}

impl Letters {
    /// Width of a text in mm; characters without a glyph count nothing, they are refused when the page is checked.
    #[must_use]
    pub fn width(&self, text: &str, lettering: Lettering, face: Weight) -> f64 {
        Self::length(self.advance(text, face), lettering)
    }

    /// The same in thousandths of the em.
    pub(crate) fn advance(&self, text: &str, face: Weight) -> u32 {
        let table = self.face(face);
        text.chars().filter_map(|character| table.find(character)).map(|(_, advance)| u32::from(advance)).sum()
    }

    /// Thousandths of the em in mm.
    pub(crate) fn length(thousandths: u32, lettering: Lettering) -> f64 {
        f64::from(thousandths) / 1000.0 * em(lettering)
    }

    /// The area that a text covers on its page, descenders and brackets included.
    #[must_use]
    pub fn area(&self, text: &Text) -> Area {
        let width = self.width(&text.content, text.lettering, text.face);
        let before = before_anchor(text.anchor, width);
        let em = em(text.lettering);
        let (below, tall) = (BELOW * em, (BELOW + ABOVE) * em);
        // Two opposite corners before the turn, carried by it.
        let [ax, ay] = text.turn.carry([-before, -below]);
        let [bx, by] = text.turn.carry([width - before, tall - below]);
        Area { x: text.at[0] + ax.min(bx), y: text.at[1] + ay.min(by), width: (bx - ax).abs(), height: (by - ay).abs() }
    }

    /// The first character of a text that has no glyph.
    #[must_use]
    pub fn missing(&self, text: &str, face: Weight) -> Option<char> {
        let table = self.face(face);
        text.chars().find(|character| table.find(*character).is_none())
    }

    pub(super) fn face(&self, face: Weight) -> &FaceTable {
        match face {
            Weight::Regular => &self.regular,
            Weight::Bold => &self.bold,
        }
    }
}

impl FaceTable {
    /// Glyph of a character.
    pub(super) fn glyph(&self, character: char) -> Option<u16> {
        self.find(character).map(|(glyph, _)| glyph)
    }

    fn find(&self, character: char) -> Option<(u16, u16)> {
        self.glyphs.get(character as usize).copied().flatten()
    }
}

/// Font size in mm that gives capitals of the height of a lettering.
pub(super) fn em(lettering: Lettering) -> f64 {
    lettering.height() / CAPITAL
}

/// How far the start of a text lies before its anchor.
pub(super) fn before_anchor(anchor: Anchor, width: f64) -> f64 {
    match anchor {
        Anchor::Start => 0.0,
        Anchor::Middle => width / 2.0,
        Anchor::End => width,
    }
}

fn read_face(bytes: &'static [u8]) -> Option<FaceTable> {
    let parsed = ParsedFont::from_bytes(bytes, 0, &mut Vec::new())?;
    let units = u32::from(parsed.units_per_em.max(1));
    let mut glyphs = vec![None; LAST_CODE + 1];
    for (code, glyph) in &parsed.codepoint_to_glyph {
        let Some(character) = char::from_u32(*code).filter(|c| is_set(*c)) else {
            continue;
        };
        let advance = u32::from(parsed.get_glyph_width(*glyph)?) * 1000 / units;
        if let Some(place) = glyphs.get_mut(character as usize) {
            *place = Some((*glyph, u16::try_from(advance).ok()?));
        }
    }
    Some(FaceTable { bytes, parsed, glyphs })
}

/// The last code that [`is_set`] lets through.
const LAST_CODE: usize = 0x25FF;

/// Scripts that are set rightly one glyph a character from left to right: Latin, Greek, Cyrillic, punctuation and signs.
/// Others need shaping and are refused like characters without a glyph.
fn is_set(character: char) -> bool {
    matches!(u32::from(character),
        0x20..=0x7E | 0xA0..=0xAC | 0xAE..=0x24F | 0x370..=0x482 | 0x48A..=0x52F | 0x1E00..=0x1EFF
        | 0x2010..=0x2015 | 0x2018..=0x2027 | 0x2030..=0x203A | 0x20A0..=0x20CF | 0x2100..=0x22FF | 0x25A0..=0x25FF)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn widths_are_those_of_the_font() {
        // Advance of H in DejaVu Sans Condensed 2.37: 1386 of 2048 units (hmtx table, read apart from this program).
        let letters = letters().expect("compiled in");
        let expected = f64::from(1386 * 1000 / 2048) / 1000.0 * 2.5 / CAPITAL;
        let width = letters.width("H", Lettering::Body, Weight::Regular);
        assert!((width - expected).abs() < 1e-9, "{width} {expected}");
    }

    #[test]
    fn what_cannot_be_set_is_named() {
        let letters = letters().expect("compiled in");
        assert_eq!(letters.missing("Łódź ±0.5° → é", Weight::Bold), None);
        assert_eq!(letters.missing("ab\u{4e2d}c", Weight::Regular), Some('\u{4e2d}'));
        assert_eq!(letters.missing("ab\nc", Weight::Regular), Some('\n'));
        assert_eq!(letters.missing("\u{627}", Weight::Regular), Some('\u{627}'));
    }
}
