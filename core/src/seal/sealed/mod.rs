//! What the code of a page signs: all that a viewer shows or does with the page, in a form that saving the file again does not
//! change.
//!
//! A page signs a list of hashes, of which its code holds the hash: each content stream but that of the code itself, the resources
//! with their font programs, encodings and maps, the boxes; where the code stands and which address is before it; the links on the
//! page, the entries of the outline that lead to it, and what the file says as a whole. The last three may be missing from a file,
//! as they are when pages are taken out of it; what is there must be what was signed. These three stand in the code's own stream as
//! comments, the only place that every program takes along with a page. That stream is rebuilt and compared when a page is checked.
//! What a link or an entry shows of its page is not listed: all that we write show the same, and nothing else is taken (`links`).

mod account;
mod canonical;
mod differs;
mod document;
mod left;
mod links;
mod metadata;
mod page;
mod text;
mod tree;

pub(crate) use account::Account;
pub(crate) use canonical::Canonical;
pub(crate) use differs::Usual;
pub(crate) use document::{KeptOfWhole, kept, whole};
pub(crate) use left::must_be_signed;
pub(crate) use links::{links, outline};
pub(crate) use page::{CheckedPage, PageFault, Shown, check_page};
pub(crate) use tree::{Leaf, Tree, leaves};
