//! Matchmark's engine: from a design document to the members, cut lines, sheets and the PDF pack of a welded tube frame.
//!
//! Everything here is pure and deterministic: no clock, no files, no randomness, no async. Dates, names and serials are arguments.
//! Lengths are millimetres, angles are radians inside and degrees wherever a person or a document reads them.
//! Axes are those of ISO 8855: x forward, y left, z up.
//!
//! Begin with `evaluate.rs`: it is the whole way from a document's text to its sheets, one call a stage. What it calls, in order:
//! [`document`] reads, [`frame`] places, [`part`] cuts, [`sheets`] says it in figures. All four compute with [`geometry`];
//! `sheets` asks [`stock`] for the plan of bars. `choices` and [`joint`] begin with `evaluate`.
//!
//! What is made of that: [`view`] draws the frame from a side, [`solid`] is a part for other machines, [`pack`] lays sheets out on
//! pages of a [`drawing`], [`render`] writes those as files, and [`seal`] signs them and checks what is signed.
//!
//! A folder uses only folders before it: `tests/tidy` holds the order.

// Tests read the demo, and stop a computation from another thread.
#![cfg_attr(test, allow(clippy::disallowed_methods, clippy::disallowed_types))]

pub mod document;
pub mod drawing;
pub mod frame;
pub mod geometry;
pub mod joint;
pub mod nodes;
pub mod pack;
pub mod part;
pub mod render;
pub mod seal;
pub mod sheets;
pub mod solid;
pub mod stock;
pub mod view;
pub mod words;

mod choices;
mod evaluate;
mod stop;

pub use choices::{TOO_MANY_CHOICES, check_all_choices, check_all_choices_until, looked_at_choices};
pub use evaluate::{Evaluation, evaluate, evaluate_for, evaluate_until};
pub use joint::{JointCut, JointRequest, MOST_ONTO, OneJoint, one_joint};
pub use stop::{Stop, Stopped};
