//! What use cases ask of each other. Nothing here is a use case, and nothing here knows one.

pub(crate) mod answered;
pub mod asking;
pub(crate) mod contact;
pub(crate) mod drawn_with;
pub(crate) mod known;
pub(crate) mod letter;
pub(crate) mod number;
pub(crate) mod once;
pub(crate) mod open;
pub(crate) mod principal;
pub(crate) mod publication;
pub(crate) mod reasons;
pub(crate) mod review;
pub(crate) mod shown_once;
pub(crate) mod standing;
pub(crate) mod states;
pub(crate) mod tell;
pub(crate) mod told;
pub(crate) mod valid;
pub mod whence;
