//! STEP: Part 21 files by ISO 10303-21, with geometry and assemblies by ISO 10303-42, -43 and -44.

mod assembly;
mod bspline;
mod context;
mod end;
mod items;
mod lexer;
mod placement;
mod record;
mod rect;
mod round;
mod shell;
mod wire;

use super::{Context, Drawn, SourceFile};
use crate::report::{Code, Notes};
use crate::words::step::{Place, StepFact};
use matchmark_core::Stopped;
use record::Exchange;
use std::cell::Cell;

/// Whether the file says that it is one, after blanks and comments, or by its name.
pub fn knows(file: &SourceFile) -> bool {
    let begins = &file.bytes[..file.bytes.len().min(4096)];
    let name = file.name.to_lowercase();
    begins.windows(12).any(|window| window == b"ISO-10303-21")
        || [".step", ".stp", ".p21"].iter().any(|ending| name.ends_with(ending))
}

/// Reads one file.
pub fn read(file: &SourceFile, context: &Context<'_>, notes: &mut Notes) -> Result<Option<Drawn>, Stopped> {
    let exchange = match Exchange::index(&file.bytes, context.stop)? {
        Ok(exchange) => exchange,
        Err(fault) => {
            let place = Place::Line { file: &file.name, line: fault.line }.to_string();
            notes.error(fault.code, place, fault.fact);
            return Ok(None);
        }
    };
    let left = Cell::new(assembly::MOST_LOOKED_AT);
    let mut reader = assembly::Reader::new(&exchange, &left, file, context, notes);
    reader.read()?;
    let drawn = reader.into_drawn();
    if drawn.curves.is_empty() && drawn.tubes.is_empty() {
        notes.warning(Code::NoTubes, file.name.as_str(), StepFact::NothingFound);
    }
    Ok(Some(drawn))
}
