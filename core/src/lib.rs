//! Matchmark's engine: from a design document to the members, cut lines, sheets and the PDF pack of a welded tube frame.
//!
//! Everything here is pure and deterministic: no clock, no files, no randomness, no async. Dates, names and serials are arguments.
//! Lengths are millimetres, angles are radians inside and degrees wherever a person or a document reads them.
//! Axes are those of ISO 8855: x forward, y left, z up.

pub mod document;
pub mod drawing;
pub mod frame;
pub mod geometry;
pub mod pack;
pub mod part;
pub mod render;
pub mod seal;
pub mod sheets;
pub mod status;
pub mod stock;
pub mod words;

mod choices;
mod evaluate;
mod one_joint;
mod solid_step;
mod stop;

pub use choices::{TOO_MANY_CHOICES, check_all_choices, check_all_choices_until, looked_at_choices};
pub use evaluate::{Evaluation, evaluate, evaluate_for, evaluate_until};
pub use one_joint::{JointCut, JointRequest, MOST_ONTO, OneJoint, one_joint};
pub use stop::{Stop, Stopped};
