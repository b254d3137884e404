//! Drawings to files: PDF through printpdf, and SVG.
//!
//! Nothing is dropped in silence: a coordinate that is not finite or off its page, or a character that the lettering cannot
//! show, is an error that names it.

mod archive;
mod check;
mod content;
mod error;
mod fonts;
mod pdf;
mod sealing;
mod svg;
mod text_string;

pub use check::check_page;
pub use error::{DrawnThing, RenderError};
pub use fonts::{Letters, letters};
pub use pdf::{Bookmark, Document, Link, Page, Written, write_pdf};
pub use sealing::Sealing;
pub use svg::write_svg;
