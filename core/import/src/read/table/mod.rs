//! Tables of points and members: CSV in its dialects, and XLSX workbooks.

mod build;
mod columns;
mod csv_text;
mod grid;
mod meaning;
mod number;
mod workbook;

use super::{Context, Drawn, SourceFile};
use crate::report::Notes;
use grid::Grid;
use matchmark_core::Stopped;

/// Whether the file is a workbook, by what it begins with or by its name.
pub fn knows_xlsx(file: &SourceFile) -> bool {
    file.bytes.starts_with(b"PK\x03\x04")
        || file.bytes.starts_with(b"PK\x05\x06")
        || file.name.to_lowercase().ends_with(".xlsx")
}

/// Whether the file is a table as text. Anything that is text can be one.
pub fn knows_text(file: &SourceFile) -> bool {
    !file.bytes.is_empty()
}

/// Reads all tables together, as they refer to each other.
pub fn read(files: &[&SourceFile], context: &Context<'_>, notes: &mut Notes) -> Result<Option<Drawn>, Stopped> {
    let mut grids: Vec<Grid> = Vec::new();
    for file in files {
        context.stop.check()?;
        if knows_xlsx(file) {
            grids.extend(workbook::read(file, context.stop, notes)?);
        } else {
            grids.extend(csv_text::read(file, notes));
        }
    }
    context.stop.check()?;
    Ok(build::build(&grids, context, notes))
}
