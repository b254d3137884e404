//! From a placed member to the part that is made: cut lines, relief, lengths, bends, mass.

mod cut;
pub mod joint;
mod line;
mod volume;

pub use cut::{Contact, Cut, TubeEnd};
pub use line::{Line, LinePoint, TOLERANCE};
