//! Packs.

mod issuing;
mod jobs;
mod redrawing;
mod scanned;
pub mod seals;
