//! What is printed, read back out of the PDF by an independent reader and held against the figures it must show.

#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, reason = "a test stops at what it did not expect")]

mod archive;
mod codes;
mod demo;
mod golden;
mod pieces;
mod reader;
mod seals;
mod stay;
mod templates;
