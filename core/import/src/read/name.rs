//! Files that are something else than they seem.

use super::{Context, Drawn, SourceFile};
use crate::report::{Code, Notes};
use crate::words::files::FileFact;
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
        let (name, begins) = (file.name.as_str(), &file.bytes);
        let fact = if begins.starts_with(DRAWING) {
            FileFact::OtherDrawing { file: name }
        } else if begins.starts_with(&COMPOUND) {
            FileFact::OldWorkbook { file: name }
        } else if begins.starts_with(b"%PDF") {
            FileFact::Pdf { file: name }
        } else {
            FileFact::NotKnownBinary { file: name }
        };
        notes.error(Code::UnknownFormat, name, fact);
    }
    Ok(None)
}
