//! The engine against what stands outside this project: handbook tables, closed forms, worked examples and ground truth.
//!
//! The source of each value is named beside it; "memory" means recalled and not read again.

mod bends;
mod developments;
mod ends;
mod frames;
mod march;
mod reading;
mod sections;
