//! One part or two: whether the mirror image of a part is the part again.

use super::same::closest;
use super::shape::Shape;
use super::tell::Tell;
use super::{Match, NEAR, SAME};

/// What a mirrored pair is.
#[derive(Debug, Clone, PartialEq)]
pub enum Hand {
    /// One part serves on both sides.
    Interchangeable {
        /// How the mirror image lies on the part.
        by: Match,
    },
    /// Two parts.
    Handed {
        /// How the mirror image lies nearest to the part, and by how much it then differs.
        by: Match,
        /// True when they differ by so little that the designer is asked whether one part was meant.
        near: bool,
        /// What tells both apart on the bench.
        tell: Tell,
    },
}

impl Hand {
    /// Most by which the mirror image differs from the part when laid on it as well as can be, mm.
    #[must_use]
    pub fn deviation(&self) -> f64 {
        match self {
            Self::Interchangeable { by } | Self::Handed { by, .. } => by.deviation,
        }
    }

    /// True when there is a left and a right part.
    #[must_use]
    pub fn is_handed(&self) -> bool {
        matches!(self, Self::Handed { .. })
    }
}

/// Decides whether a part and its mirror image are one part: whether a rigid motion carries the finished solid (cuts, clocking,
/// bends, holes) onto its mirror image within [`SAME`]. What is told of a handed part holds for `left` as it is given.
#[must_use]
pub fn hand(left: &Shape) -> Hand {
    let by = closest(&left.mirrored(), left)
        .unwrap_or(Match { motion: super::Motion { swapped: false, turn: 0.0, slide: 0.0 }, deviation: f64::INFINITY });
    if by.deviation <= SAME {
        Hand::Interchangeable { by }
    } else {
        let undrilled = Shape { holes: Vec::new(), ..left.clone() };
        let by_holes_alone =
            !left.holes.is_empty() && closest(&undrilled.mirrored(), &undrilled).is_some_and(|by| by.deviation <= SAME);
        Hand::Handed { by, near: by.deviation < NEAR, tell: Tell::of(left, by.deviation, by_holes_alone) }
    }
}
