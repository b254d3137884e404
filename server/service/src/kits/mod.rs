//! Kits: who has which, what was measured on them and where they stand.

pub(crate) mod boxes;
pub(crate) mod holds;
pub(crate) mod import;
pub(crate) mod measurements;
pub(crate) mod moves;
pub(crate) mod notes;
pub(crate) mod registration;
pub(crate) mod standing;
