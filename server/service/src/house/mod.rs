//! The house itself: its keys, its records, its contact, and whether it is ready.

pub(crate) mod checkpoints;
pub(crate) mod contact;
pub(crate) mod demo;
pub(crate) mod feed;
pub(crate) mod inspection;
pub(crate) mod keys;
pub(crate) mod readiness;
pub(crate) mod restored;
pub(crate) mod signing;
pub(crate) mod sweep;
