//! Moving and turning a drawing by quarter turns, without rounding.

use super::Point;

/// A turn by whole quarters, anticlockwise.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Turn {
    /// As it stands.
    #[default]
    None,
    /// Reads upwards: right becomes up.
    Quarter,
    /// On its head.
    Half,
    /// Reads downwards: right becomes down.
    ThreeQuarters,
}

impl Turn {
    /// Where the turn carries a vector.
    #[must_use]
    pub fn carry(self, [x, y]: Point) -> Point {
        match self {
            Self::None => [x, y],
            Self::Quarter => [-y, x],
            Self::Half => [-x, -y],
            Self::ThreeQuarters => [y, -x],
        }
    }

    /// This turn and then another.
    #[must_use]
    pub fn then(self, more: Self) -> Self {
        let turns = [Self::None, Self::Quarter, Self::Half, Self::ThreeQuarters];
        turns[(self as usize + more as usize) % 4]
    }
}

/// Where the origin of a drawing goes and how it is turned about it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Placement {
    /// New place of the origin, mm.
    pub at: Point,
    /// Turn about the origin.
    pub turn: Turn,
}

impl Placement {
    /// Where a point goes.
    #[must_use]
    pub fn carry(self, point: Point) -> Point {
        let [x, y] = self.turn.carry(point);
        [self.at[0] + x, self.at[1] + y]
    }
}
