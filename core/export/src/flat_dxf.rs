//! Flat patterns as drawings for cutters (DXF R2000, AC1015): contours as closed polylines with true arcs, holes as circles, in mm.
//!
//! Three layers: CUT, MARK and TEXT. No splines, since many cutters do not take them. Written in full, with every table and dictionary
//! that the published reference asks for, so that no reader has to add something.

use crate::ExportError;
use crate::facts::Subject;
use crate::flat::{self, Flat, Layer, Shape};
use crate::format::{Entry, Format};
use std::fmt::{Display, Write as _};

pub(crate) const FORMAT: Format = Format {
    id: "dxf",
    folder: "flat",
    media_type: "image/vnd.dxf",
    entries: |subject| {
        let entry = |(name, about): (String, String)| Entry { name: format!("{name}.dxf"), about };
        flat::listed(subject).into_iter().map(entry).collect()
    },
    write: |subject, name, _| Ok(write(&found(subject, name, ".dxf")?).into_bytes()),
};

/// The flat pattern of a file.
pub(crate) fn found(subject: &Subject, name: &str, ending: &str) -> Result<Flat, ExportError> {
    let found = name.strip_suffix(ending).and_then(|name| flat::named(subject, name));
    found.ok_or_else(|| ExportError::UnknownFile(name.to_owned()))
}

/// Pairs of group codes and values.
#[derive(Default)]
struct Pairs {
    text: String,
    /// Last handle given.
    handle: u32,
}

impl Pairs {
    fn put(&mut self, code: u16, value: impl Display) {
        // Writing to a string cannot fail.
        let _ = write!(self.text, "{code:3}\r\n{value}\r\n");
    }

    fn real(&mut self, code: u16, value: f64) {
        let written = format!("{value:.9}");
        let trimmed = written.trim_end_matches('0');
        let zero = if trimmed.ends_with('.') { "0" } else { "" };
        self.put(code, format!("{}{zero}", if trimmed == "-0." { "0." } else { trimmed }));
    }

    fn point(&mut self, code: u16, [x, y]: [f64; 2]) {
        self.real(code, x);
        self.real(code + 10, y);
    }

    fn next(&mut self) -> u32 {
        self.handle += 1;
        self.handle
    }

    /// Begins a record of its own handle, which it answers.
    fn record(&mut self, kind: &str, owner: u32, classes: &[&str]) -> u32 {
        let handle = self.next();
        self.put(0, kind);
        self.put(if kind == "DIMSTYLE" { 105 } else { 5 }, format_args!("{handle:X}"));
        self.put(330, format_args!("{owner:X}"));
        for class in classes {
            self.put(100, class);
        }
        handle
    }

    fn table(&mut self, name: &str, count: usize) -> u32 {
        let handle = self.next();
        self.put(0, "TABLE");
        self.put(2, name);
        self.put(5, format_args!("{handle:X}"));
        self.put(330, "0");
        self.put(100, "AcDbSymbolTable");
        self.put(70, count);
        if name == "DIMSTYLE" {
            self.put(100, "AcDbDimStyleTable");
            self.put(71, 0);
        }
        handle
    }

    fn section(&mut self, name: &str) {
        self.put(0, "SECTION");
        self.put(2, name);
    }
}

/// Handles that others refer to.
struct Spaces {
    model: u32,
    paper: u32,
}

fn write(flat: &Flat) -> String {
    let mut body = Pairs::default();
    let spaces = tables(&mut body);
    blocks(&mut body, &spaces);
    body.section("ENTITIES");
    for shape in &flat.shapes {
        entity(&mut body, spaces.model, shape);
    }
    body.put(0, "ENDSEC");
    objects(&mut body);
    body.put(0, "EOF");
    let mut pairs = Pairs::default();
    pairs.section("HEADER");
    let [low, high] = flat.bounds;
    for (name, code, value) in [
        ("$ACADVER", 1, "AC1015".to_owned()),
        ("$DWGCODEPAGE", 3, "ANSI_1252".to_owned()),
        ("$HANDSEED", 5, format!("{:X}", body.handle + 1)),
        ("$INSUNITS", 70, "4".to_owned()),
        ("$MEASUREMENT", 70, "1".to_owned()),
        ("$LUNITS", 70, "2".to_owned()),
    ] {
        pairs.put(9, name);
        pairs.put(code, value);
    }
    for (name, at) in [("$EXTMIN", low), ("$EXTMAX", high)] {
        pairs.put(9, name);
        pairs.point(10, at);
        pairs.real(30, 0.0);
    }
    pairs.put(0, "ENDSEC");
    pairs.section("CLASSES");
    pairs.put(0, "ENDSEC");
    pairs.text + &body.text
}

/// The nine tables.
fn tables(pairs: &mut Pairs) -> Spaces {
    pairs.section("TABLES");
    pairs.table("VPORT", 0);
    pairs.put(0, "ENDTAB");
    let table = pairs.table("LTYPE", 3);
    for (name, about) in [("ByBlock", ""), ("ByLayer", ""), ("Continuous", "Solid line")] {
        pairs.record("LTYPE", table, &["AcDbSymbolTableRecord", "AcDbLinetypeTableRecord"]);
        pairs.put(2, name);
        pairs.put(70, 0);
        pairs.put(3, about);
        pairs.put(72, 65);
        pairs.put(73, 0);
        pairs.real(40, 0.0);
    }
    pairs.put(0, "ENDTAB");
    let table = pairs.table("LAYER", 1 + Layer::ALL.len());
    for (name, colour) in [("0", 7), (Layer::Cut.name(), 1), (Layer::Mark.name(), 5), (Layer::Text.name(), 3)] {
        pairs.record("LAYER", table, &["AcDbSymbolTableRecord", "AcDbLayerTableRecord"]);
        pairs.put(2, name);
        pairs.put(70, 0);
        pairs.put(62, colour);
        pairs.put(6, "Continuous");
    }
    pairs.put(0, "ENDTAB");
    let table = pairs.table("STYLE", 1);
    pairs.record("STYLE", table, &["AcDbSymbolTableRecord", "AcDbTextStyleTableRecord"]);
    pairs.put(2, "Standard");
    pairs.put(70, 0);
    for (code, value) in [(40, 0.0), (41, 1.0), (50, 0.0)] {
        pairs.real(code, value);
    }
    pairs.put(71, 0);
    pairs.real(42, 2.5);
    pairs.put(3, "txt");
    pairs.put(4, "");
    pairs.put(0, "ENDTAB");
    for name in ["VIEW", "UCS"] {
        pairs.table(name, 0);
        pairs.put(0, "ENDTAB");
    }
    let table = pairs.table("APPID", 1);
    pairs.record("APPID", table, &["AcDbSymbolTableRecord", "AcDbRegAppTableRecord"]);
    pairs.put(2, "ACAD");
    pairs.put(70, 0);
    pairs.put(0, "ENDTAB");
    let table = pairs.table("DIMSTYLE", 1);
    pairs.record("DIMSTYLE", table, &["AcDbSymbolTableRecord", "AcDbDimStyleTableRecord"]);
    pairs.put(2, "Standard");
    pairs.put(70, 0);
    pairs.put(0, "ENDTAB");
    let table = pairs.table("BLOCK_RECORD", 2);
    let [model, paper] = ["*Model_Space", "*Paper_Space"].map(|name| {
        let handle = pairs.record("BLOCK_RECORD", table, &["AcDbSymbolTableRecord", "AcDbBlockTableRecord"]);
        pairs.put(2, name);
        handle
    });
    pairs.put(0, "ENDTAB");
    pairs.put(0, "ENDSEC");
    Spaces { model, paper }
}

fn blocks(pairs: &mut Pairs, spaces: &Spaces) {
    pairs.section("BLOCKS");
    for (name, owner) in [("*Model_Space", spaces.model), ("*Paper_Space", spaces.paper)] {
        pairs.record("BLOCK", owner, &["AcDbEntity"]);
        pairs.put(8, "0");
        pairs.put(100, "AcDbBlockBegin");
        pairs.put(2, name);
        pairs.put(70, 0);
        pairs.point(10, [0.0, 0.0]);
        pairs.real(30, 0.0);
        pairs.put(3, name);
        pairs.put(1, "");
        pairs.record("ENDBLK", owner, &["AcDbEntity"]);
        pairs.put(8, "0");
        pairs.put(100, "AcDbBlockEnd");
    }
    pairs.put(0, "ENDSEC");
}

fn entity(pairs: &mut Pairs, owner: u32, shape: &Shape) {
    let mut begin = |kind: &str, layer: Layer, class: &str| {
        pairs.record(kind, owner, &["AcDbEntity"]);
        pairs.put(8, layer.name());
        pairs.put(100, class);
    };
    match shape {
        Shape::Contour { layer, corners, closed, .. } => {
            begin("LWPOLYLINE", *layer, "AcDbPolyline");
            pairs.put(90, corners.len());
            pairs.put(70, u8::from(*closed));
            for corner in corners {
                pairs.point(10, corner.at);
                if corner.bulge != 0.0 {
                    pairs.real(42, corner.bulge);
                }
            }
        }
        Shape::Circle { layer, centre, radius, .. } => {
            begin("CIRCLE", *layer, "AcDbCircle");
            pairs.point(10, *centre);
            pairs.real(30, 0.0);
            pairs.real(40, *radius);
        }
        Shape::Text { at, height, content, .. } => {
            begin("TEXT", Layer::Text, "AcDbText");
            pairs.point(10, *at);
            pairs.real(30, 0.0);
            pairs.real(40, *height);
            pairs.put(1, escaped(content));
            pairs.put(100, "AcDbText");
        }
    }
}

fn objects(pairs: &mut Pairs) {
    pairs.section("OBJECTS");
    let root = pairs.record("DICTIONARY", 0, &["AcDbDictionary"]);
    pairs.put(281, 1);
    pairs.put(3, "ACAD_GROUP");
    pairs.put(350, format_args!("{:X}", root + 1));
    pairs.record("DICTIONARY", root, &["AcDbDictionary"]);
    pairs.put(281, 1);
    pairs.put(0, "ENDSEC");
}

/// Text as a drawing writes it: no control codes, and other characters than ASCII by their number.
fn escaped(text: &str) -> String {
    ascii(&text.replace("%%", "% %").replace('^', "^ "))
}

fn ascii(text: &str) -> String {
    let mut written = String::with_capacity(text.len());
    for character in text.chars() {
        match character {
            ' '..='~' => written.push(character),
            '\u{A0}'..='\u{FFFF}' => {
                let _ = write!(written, "\\U+{:04X}", u32::from(character));
            }
            _ => written.push('?'),
        }
    }
    written
}

#[cfg(test)]
mod tests {
    use super::escaped;

    #[test]
    fn text_carries_no_control_codes() {
        assert_eq!(escaped("50%%d ^J \u{d8}40"), "50% %d ^ J \\U+00D840");
    }
}
