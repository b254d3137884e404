//! Packs.

mod hands;
mod issuing;
mod jobs;
mod redrawing;
mod scanned;
pub mod seals;
