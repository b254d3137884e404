//! The house is what DEVELOPERS.md says it is: arrows of core one way, no circle, files of a size to be read, figures as in the code,
//! and words in the catalogues alone.

#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, reason = "a test stops at what it did not expect")]
mod arrows;
mod figures;
mod sizes;
mod sources;
mod words;
