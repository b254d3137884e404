//! Files for machines and other programs, read back by readers that share nothing with the writers and held against the sheets.

#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, reason = "a test stops at what it did not expect")]

mod archive;
mod flats;
mod labels;
mod models;
mod readers;
mod solids;
mod tables;
mod written;
