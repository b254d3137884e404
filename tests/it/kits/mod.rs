//! Kits.

mod holds;
mod in_the_way;
mod one_kit;
mod registration;
pub mod standing;
mod taken_back;
