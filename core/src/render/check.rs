//! What every page must pass before it is written.

use super::error::DrawnThing;
use super::{Letters, RenderError};
use crate::drawing::{Area, Drawing, Item, Point};

/// Nothing is drawn nearer to the paper's edge than this, mm: what common printers leave white.
const UNPRINTED: f64 = 6.0;

/// Checks that every coordinate is finite and on the page, and that every character has a glyph.
///
/// `title` names the page in the error; `size` is the width and height of the paper in mm.
///
/// # Errors
/// The first coordinate or character that fails.
pub fn check_page(title: &str, size: [f64; 2], drawing: &Drawing, letters: &Letters) -> Result<(), RenderError> {
    let off_page = |what| RenderError::OffPage { page: title.to_owned(), what };
    let not_finite = || RenderError::NotFinite { page: title.to_owned() };
    for item in &drawing.items {
        match item {
            Item::Path(path) => {
                for point in path.points() {
                    if !is_finite(point) {
                        return Err(not_finite());
                    }
                    if !holds(size, point) {
                        return Err(off_page(DrawnThing::Line));
                    }
                }
            }
            Item::Text(text) => {
                if !is_finite(text.at) {
                    return Err(not_finite());
                }
                if let Some(character) = letters.missing(&text.content, text.face) {
                    return Err(RenderError::MissingGlyph { text: text.content.clone(), character });
                }
                let Area { x, y, width, height } = letters.area(text);
                if !holds(size, [x, y]) || !holds(size, [x + width, y + height]) {
                    return Err(off_page(DrawnThing::Text(text.content.clone())));
                }
            }
        }
    }
    Ok(())
}

fn is_finite(point: Point) -> bool {
    point[0].is_finite() && point[1].is_finite()
}

fn holds(size: [f64; 2], point: Point) -> bool {
    (0..2).all(|axis| point[axis] >= UNPRINTED && point[axis] <= size[axis] - UNPRINTED)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::drawing::{Pen, Text};
    use crate::render::letters;

    fn check(drawing: &Drawing) -> Result<(), RenderError> {
        check_page("page", [210.0, 297.0], drawing, letters().expect("compiled in"))
    }

    #[test]
    fn coordinates_must_be_finite_and_on_the_page() {
        let codes: Vec<_> = [f64::NAN, f64::INFINITY, 1e300, 205.0, 100.0]
            .into_iter()
            .map(|x| {
                let mut drawing = Drawing::default();
                drawing.line([10.0, 10.0], [x, 20.0], Pen::Cut);
                check(&drawing).err().map(|error| error.code())
            })
            .collect();
        assert_eq!(
            codes,
            vec![
                Some("coordinate-not-finite"),
                Some("coordinate-not-finite"),
                Some("off-page"),
                Some("off-page"),
                None
            ]
        );
    }

    #[test]
    fn texts_must_fit_the_page_and_have_glyphs() {
        let mut long = Drawing::default();
        long.text(Text::new("m".repeat(100), [20.0, 20.0]));
        assert_eq!(check(&long).err().map(|e| e.code()), Some("off-page"));
        let mut foreign = Drawing::default();
        foreign.text(Text::new("stay \u{4e2d}", [20.0, 20.0]));
        assert_eq!(
            check(&foreign),
            Err(RenderError::MissingGlyph { text: "stay \u{4e2d}".to_owned(), character: '\u{4e2d}' })
        );
    }
}
