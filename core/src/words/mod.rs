//! What paper says, in the reader's language: groups of phrases, one file a group and language.
//!
//! A phrase is named for its place and role, never for its English. Figures are no words: [`crate::pack`] writes them.

mod phrases;

pub use phrases::{Piece, Plural, Slot, filled, has_slots, pieces};

#[cfg(test)]
mod tests;
