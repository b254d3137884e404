//! Forms that count once, and questions before what ends something.

pub mod confirmation;
pub mod fields;
pub mod submission;
