//! DXF, in text and in binary form, by the published reference: pairs of a group code and a value.

mod codepage;
mod drawing;
mod entity;
mod expand;
mod ocs;
mod pairs;

use super::{Context, Drawn, SourceFile, settled_unit};
use crate::report::{Code, Notes};
use crate::unit::Unit;
use drawing::Drawing;
pub use entity::closes;
use matchmark_core::Stopped;
use pairs::Pairs;
pub use pairs::is_binary;

/// Something that ends the reading of a file.
#[derive(Debug)]
pub(super) struct Fault {
    code: Code,
    line: u64,
    message: String,
}

/// Whether the file is a DXF by what it begins with, or by its name.
pub fn knows(file: &SourceFile) -> bool {
    is_binary(&file.bytes) || pairs::begins_with_pairs(&file.bytes) || has_ending(file)
}

fn has_ending(file: &SourceFile) -> bool {
    file.name.to_lowercase().ends_with(".dxf")
}

/// Reads one drawing.
pub fn read(file: &SourceFile, context: &Context<'_>, notes: &mut Notes) -> Result<Option<Drawn>, Stopped> {
    let mut pairs = Pairs::new(&file.bytes);
    let unit_word = if is_binary(&file.bytes) { "byte" } else { "line" };
    let drawing = match Drawing::read(&mut pairs, context.stop)? {
        Ok(drawing) => drawing,
        Err(fault) => {
            let place = format!("{}, {unit_word} {}", file.name, fault.line);
            notes.error(fault.code, place, fault.message);
            return Ok(None);
        }
    };
    let unit = drawing.unit();
    let place = format!("{}, $INSUNITS", file.name);
    let mm = settled_unit(context.answers.unit, unit.map(Unit::mm), &place, notes);
    let mut drawn = Drawn { mm, source_mm: mm, unit_hint: drawing.unit_hint(), ..Drawn::default() };
    if let (Some(unit), None) = (unit, context.answers.unit) {
        notes.information(Code::UnitTaken, place, format!("The drawing says that its unit is {}.", unit.sign()));
    }
    match expand::expand(&drawing, &file.name, unit_word, context.stop, notes)? {
        Ok(curves) => drawn.curves = curves,
        Err(fault) => {
            notes.error(fault.code, format!("{}, {unit_word} {}", file.name, fault.line), fault.message);
            return Ok(None);
        }
    }
    Ok(Some(drawn))
}
