//! Drawings to files: PDF through printpdf, and SVG.
//!
//! Nothing is dropped in silence: a coordinate that is not finite or off its page, or a character that the lettering cannot
//! show, is an error that names it.

mod check;
mod content;
mod error;
mod fonts;
mod pdf;
mod step;
mod svg;

pub use check::check_page;
pub use error::RenderError;
pub use fonts::{Letters, letters};
pub use pdf::{Bookmark, Document, write_pdf};
pub use step::{SolidError, SolidHeading, write_solid};
pub use svg::write_svg;
