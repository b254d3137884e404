//! Which way something faces in the frame.

use crate::geometry::DVec3;
use serde::{Deserialize, Serialize};

/// A way along an axis of the frame (ISO 8855: x forward, y left, z up).
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
#[serde(rename_all = "lowercase")]
pub enum Facing {
    /// +z.
    Up,
    /// -z.
    Down,
    /// +x.
    Forward,
    /// -x.
    Back,
    /// +y.
    Left,
    /// -y.
    Right,
}

impl Facing {
    /// The one that a direction is nearest to.
    pub(super) fn of(direction: DVec3) -> Self {
        let ways = [
            (direction.z, [Self::Up, Self::Down]),
            (direction.x, [Self::Forward, Self::Back]),
            (direction.y, [Self::Left, Self::Right]),
        ];
        let (along, both) =
            ways.into_iter().fold(ways[0], |best, way| if way.0.abs() > best.0.abs() + 1e-9 { way } else { best });
        both[usize::from(along < 0.0)]
    }
}
