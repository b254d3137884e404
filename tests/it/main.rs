//! Whole-system tests and checks against published values.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    reason = "the steps that tests share fail the test, as the tests themselves do"
)]

mod browser;
mod bucket;
mod cable;
mod designs;
mod faults;
mod fixtures;
mod handbook;
mod house;
mod http;
mod kits;
mod notices;
mod packs;
mod people;
mod place;
mod server;
mod sinks;
mod strangers;
mod web;
