//! Finished parts as solids, read back by a general-purpose solid-modelling kernel and held against the engine's own figures.

#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, reason = "a test stops at what it did not expect")]

mod designs;
mod ground_truth;
mod kernel;
mod views;
