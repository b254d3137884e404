//! Files that are something else than they seem.

use super::{Context, Drawn, SourceFile};
use crate::report::{Code, Notes};
use matchmark_core::Stopped;

/// How a binary drawing of another format than DXF begins: these letters and four digits.
const DRAWING: &[u8] = b"AC10";
/// How workbooks of the format before XLSX begin.
const COMPOUND: [u8; 8] = [0xd0, 0xcf, 0x11, 0xe0, 0xa1, 0xb1, 0x1a, 0xe1];

/// Whether the file is binary, and of no format that is read.
pub fn is_no_text(file: &SourceFile) -> bool {
    let begins = &file.bytes[..file.bytes.len().min(4096)];
    let is_utf16 = begins.starts_with(&[0xff, 0xfe]) || begins.starts_with(&[0xfe, 0xff]);
    begins.starts_with(DRAWING)
        || begins.starts_with(&COMPOUND)
        || begins.starts_with(b"%PDF")
        || (begins.contains(&0) && !is_utf16 && !super::dxf::is_binary(&file.bytes))
}

/// Says what it is.
#[expect(clippy::unnecessary_wraps, reason = "all readers have one shape")]
pub fn refuse(files: &[&SourceFile], _: &Context<'_>, notes: &mut Notes) -> Result<Option<Drawn>, Stopped> {
    for file in files {
        let begins = &file.bytes;
        let what = if begins.starts_with(DRAWING) {
            "is a binary drawing of another format, not a DXF, whatever its name says. Save it as DXF in text form."
        } else if begins.starts_with(&COMPOUND) {
            "is a workbook of the old binary format. Save it as XLSX or CSV."
        } else if begins.starts_with(b"%PDF") {
            "is a PDF, which holds pictures of lines and not the frame. Export DXF or STEP."
        } else {
            "is a binary file of no format that is read here. Save it as DXF, STEP, CSV or XLSX."
        };
        notes.error(Code::UnknownFormat, file.name.as_str(), format!("{} {what}", file.name));
    }
    Ok(None)
}
