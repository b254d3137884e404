//! Kits.

mod holds;
mod one_kit;
mod registration;
pub mod standing;
