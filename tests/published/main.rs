//! The engine against what stands outside this project: handbook tables, closed forms, worked examples and ground truth.
//!
//! The source of each value is named beside it; "memory" means recalled and not read again.

#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, reason = "a test stops at what it did not expect")]
mod bends;
mod built;
mod checks;
mod compare;
mod developments;
mod document;
mod ends;
mod figures;
mod frames;
mod grazing;
mod hand;
mod kits;
mod march;
mod motions;
mod nodes;
mod opposite;
mod plates;
mod reading;
mod rectangular;
mod resolved;
mod sections;
mod stock_plans;
mod tubes;
