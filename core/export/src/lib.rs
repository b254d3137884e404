//! What other programs and machines read of a frame: tables, flat patterns, solids, a model to look at, labels, and all of it in one file.
//!
//! Everything here is pure and deterministic, as in the core: the same subject gives the same bytes. A [`Subject`] is a frame with its
//! sheets and what is told of it. [`files`] lists the files that it has, [`write_file`] writes one, and [`write_bundle`] all of them.
//!
//! A format is one file here and one entry of [`FORMATS`]. What is a table is typed once, in `tables`, and written by `csv` and
//! `workbook` alike; what is flat is drawn once, in `flat`, and written by `flat_dxf` and `flat_svg`.

mod bundle;
mod csv;
mod error;
mod facts;
mod flat;
mod flat_dxf;
mod flat_svg;
mod format;
mod glb;
mod labels;
mod mesh;
mod solids;
mod table;
pub mod tables;
mod words;
mod workbook;

pub use bundle::{BUNDLE, about_bundle, write_bundle};
pub use csv::{MEDIA_TYPE as CSV, write as write_csv};
pub use error::ExportError;
pub use facts::{Facts, Subject};
pub use format::{FORMATS, FileInfo, files, write_file};
pub use labels::{LabelSheet, labels_pdf};
pub use table::{Column, Table, Value};
