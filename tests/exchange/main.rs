//! Frames from other programs, read back against ground truth that was made with tools which share nothing with this project.

#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, reason = "a test stops at what it did not expect")]
mod cases;
mod drawn;
mod dxf;
mod fresh;
mod hostile;
mod over;
mod questions;
