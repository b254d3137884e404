//! The list of formats, and the files that a frame has in each.

use crate::facts::Subject;
use crate::{ExportError, csv, flat_dxf, flat_svg, glb, labels, solids, workbook};
use matchmark_core::Stop;

/// A format: what files a frame has in it, and how one is written.
pub struct Format {
    /// Short name.
    pub id: &'static str,
    /// Folder of its files in a bundle.
    pub folder: &'static str,
    /// Media type of its files.
    pub media_type: &'static str,
    pub(crate) entries: fn(&Subject) -> Vec<Entry>,
    pub(crate) write: fn(&Subject, &str, Stop) -> Result<Vec<u8>, ExportError>,
}

/// A file of a format.
pub(crate) struct Entry {
    pub(crate) name: String,
    pub(crate) about: String,
}

/// All formats, in the order of a bundle.
pub const FORMATS: [Format; 7] =
    [csv::FORMAT, workbook::FORMAT, flat_dxf::FORMAT, flat_svg::FORMAT, solids::FORMAT, glb::FORMAT, labels::FORMAT];

/// A file that a frame has.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct FileInfo {
    /// Its name, which no other file of the frame has.
    pub name: String,
    /// Short name of its format.
    pub format: &'static str,
    /// Its folder in a bundle.
    pub folder: &'static str,
    /// Its media type.
    pub media_type: &'static str,
    /// What it is, in a few words.
    pub about: String,
}

/// The files of a frame, format by format.
#[must_use]
pub fn files(subject: &Subject) -> Vec<FileInfo> {
    let of_format = |format: &Format| {
        let (id, folder, media_type) = (format.id, format.folder, format.media_type);
        let entries = (format.entries)(subject).into_iter();
        let info =
            move |entry: Entry| FileInfo { name: entry.name, format: id, folder, media_type, about: entry.about };
        entries.map(info).collect::<Vec<_>>()
    };
    FORMATS.iter().flat_map(of_format).collect()
}

/// Writes a file of the list by its name. The same subject gives the same bytes.
///
/// # Errors
/// [`ExportError`]: no such file, a part that is no solid, labels that do not fit, or it is no longer wanted.
pub fn write_file(subject: &Subject, name: &str, stop: Stop) -> Result<Vec<u8>, ExportError> {
    let known = FORMATS.iter().find(|format| (format.entries)(subject).iter().any(|entry| entry.name == name));
    let format = known.ok_or_else(|| ExportError::UnknownFile(name.to_owned()))?;
    (format.write)(subject, name, stop)
}
