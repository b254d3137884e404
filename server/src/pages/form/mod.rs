//! Forms that count once, and questions before what ends something.

pub mod deed;
pub mod filled;
pub mod sure;
