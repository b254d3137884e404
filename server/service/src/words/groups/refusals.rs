//! What is said of refusals.

pub use crate::refusals::Refusals;
