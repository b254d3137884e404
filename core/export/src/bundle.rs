//! All files of a frame in one archive for the shop, written as it is made, with an account of what is in it.

use crate::ExportError;
use crate::facts::Subject;
use crate::format::{Entry, FORMATS, Format};
use crate::words::EN;
use data_encoding::HEXLOWER;
use matchmark_core::Stop;
use serde_json::{Value, json};
use sha2::{Digest, Sha256};
use std::io::Write;
use zip::write::SimpleFileOptions;
use zip::{CompressionMethod, DateTime, ZipWriter};

/// Its name.
pub const BUNDLE: &str = "all.zip";

/// What the bundle is, in a few words.
#[must_use]
pub fn about_bundle() -> &'static str {
    EN.about_bundle()
}

/// The account of the files, last in the archive: it tells their hashes.
const MANIFEST: &str = "manifest.json";

/// Writes all files of a frame, or those of `formats` where some are named, to `sink` one after the other: whoever reads has the first
/// while the last is being made. A part that is no solid is left out, and the manifest says which and why. The same subject gives the
/// same bytes.
///
/// # Errors
/// [`ExportError`] when a file cannot be made, the sink takes no more, or it is no longer wanted.
pub fn write_bundle(subject: &Subject, formats: &[&str], sink: impl Write, stop: Stop) -> Result<(), ExportError> {
    let mut archive = ZipWriter::new_stream(sink);
    let (mut listed, mut left_out): (Vec<Value>, Vec<Value>) = (Vec::new(), Vec::new());
    let is_wanted = |format: &&Format| formats.is_empty() || formats.contains(&format.id);
    for format in FORMATS.iter().filter(is_wanted) {
        for entry in (format.entries)(subject) {
            stop.check()?;
            let path = format!("{}/{}", format.folder, entry.name);
            match (format.write)(subject, &entry.name, stop) {
                Ok(bytes) => {
                    add(&mut archive, &path, &bytes)?;
                    listed.push(told(format, &entry, &path, &bytes));
                }
                Err(error) if error.is_of_the_part() => {
                    left_out.push(json!({"path": path, "code": error.code(), "why": error.to_string()}));
                }
                Err(error) => return Err(error),
            }
        }
    }
    let facts = subject.facts;
    let manifest = json!({
        "format": "matchmark-files/1",
        "title": facts.title(),
        "supplier": facts.supplier,
        "design": facts.design,
        "revision": facts.revision,
        "date": facts.date,
        "kit": facts.kit,
        "kit_facts": facts.kit_facts,
        "design_sha256": facts.design_sha256,
        "cautions": facts.cautions(),
        "files": listed,
        "left_out": left_out,
    });
    let text = serde_json::to_string_pretty(&manifest).map_err(failed)?;
    add(&mut archive, MANIFEST, text.as_bytes())?;
    archive.finish().map_err(failed)?;
    Ok(())
}

fn told(format: &Format, entry: &Entry, path: &str, bytes: &[u8]) -> Value {
    json!({
        "path": path,
        "about": entry.about,
        "media_type": format.media_type,
        "size": bytes.len(),
        "sha256": HEXLOWER.encode(&Sha256::digest(bytes)),
    })
}

/// Adds a file under a date that is always the same.
fn add<W: Write + std::io::Seek>(archive: &mut ZipWriter<W>, path: &str, bytes: &[u8]) -> Result<(), ExportError> {
    let method = CompressionMethod::Deflated;
    let options = SimpleFileOptions::default().compression_method(method).last_modified_time(DateTime::default());
    archive.start_file(path, options.unix_permissions(0o644)).map_err(failed)?;
    archive.write_all(bytes).map_err(failed)
}

fn failed(error: impl std::fmt::Display) -> ExportError {
    ExportError::Failed(error.to_string())
}
