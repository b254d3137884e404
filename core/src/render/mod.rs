//! Drawings to files: PDF through printpdf, and SVG.
//!
//! Nothing is dropped in silence: a coordinate that is not finite or off its page, or a character that the lettering cannot
//! show, is an error that names it.

mod archive;
mod check;
mod content;
mod error;
mod file_seal;
mod fonts;
mod pdf;
mod sealed;
mod sealing;
mod step;
mod strict;
mod svg;
mod verify;
mod words;

pub use check::check_page;
pub use error::RenderError;
pub use fonts::{Letters, letters};
pub use pdf::{Bookmark, Document, Link, Page, Written, write_pdf};
pub use sealing::Sealing;
pub use step::{SolidError, SolidHeading, write_solid};
pub use svg::write_svg;
pub use verify::{Answer, NotAPdf, PageSeal, SealReport, check_seals};
