//! A joint described on its own: a tube whose end is cut, and what it is fitted to.
//!
//! [`solve`] takes cases in figures and gives sampled lines and a volume; [`one_joint`] takes whole tubes and gives the wrap for
//! the end. Both call their parts alike: a tube has a section (`od`, `wall`, or `width`, `height`, `wall`, `corner`), a bent one
//! a `path` and a `radius`, and the cut one is fitted onto others.

mod case;
mod solve;
mod wrap;

pub use solve::{JointError, JointResult, JointResults, MOST_CASES, SAMPLES, solve, solve_all, solve_until};
pub use wrap::{JointCut, JointRequest, MOST_ONTO, OneJoint, one_joint};
