//! From sheets to the pages of a pack: one file a page kind.

mod issue;

pub use issue::{Issue, Paper, Status};
