//! The design document as written: its types, how it is read, what is found wrong with it, and its canonical hash.

mod finding;

pub use finding::{Finding, Severity};
