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
use crate::words::dxf::{Counted, DxfFact, DxfFault, Place};
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
    fact: DxfFault,
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
    let counted = if is_binary(&file.bytes) { Counted::Byte } else { Counted::Line };
    let drawing = match Drawing::read(&mut pairs, context.stop)? {
        Ok(drawing) => drawing,
        Err(fault) => {
            let place = Place::Position { file: &file.name, counted, at: fault.line }.to_string();
            notes.error(fault.code, place, fault.fact);
            return Ok(None);
        }
    };
    let unit = drawing.unit();
    let place = Place::Unit { file: &file.name }.to_string();
    let mm = settled_unit(context.answers.unit, unit.map(Unit::mm), &place, notes);
    let mut drawn = Drawn { mm, source_mm: mm, unit_hint: drawing.unit_hint(), ..Drawn::default() };
    if let (Some(unit), None) = (unit, context.answers.unit) {
        notes.information(Code::UnitTaken, place, DxfFact::UnitStated { sign: unit.sign() });
    }
    match expand::expand(&drawing, &file.name, counted, context.stop, notes)? {
        Ok(curves) => drawn.curves = curves,
        Err(fault) => {
            let place = Place::Position { file: &file.name, counted, at: fault.line }.to_string();
            notes.error(fault.code, place, fault.fact);
            return Ok(None);
        }
    }
    Ok(Some(drawn))
}
