//! What is said of corner points that make no centreline.

use thiserror::Error;

/// Why corner points make no centreline.
#[derive(Debug, Clone, Copy, PartialEq, Error)]
pub enum PathError {
    /// Two neighbouring points coincide.
    #[error("corner points {0} and {1} coincide")]
    Coincident(usize, usize),
    /// The path turns straight back.
    #[error("the path turns back on itself at corner point {0}")]
    TurnsBack(usize),
    /// The bends at both ends of a leg need more straight than there is.
    #[error("between corner points {from} and {to} there are {length:.2} mm, but the bends there take {needed:.2} mm")]
    TooShort {
        /// Corner at its start.
        from: usize,
        /// Corner at its end.
        to: usize,
        /// Distance between both, mm.
        length: f64,
        /// Tangent lengths of both bends together, mm.
        needed: f64,
    },
}
