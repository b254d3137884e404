//! Directions of view.

use crate::drawing::Point;
use crate::geometry::DVec3;

/// A direction of view, orthographic (ISO 5456-2): the viewer is far away.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Look {
    /// Unit direction that runs right in the view.
    pub right: DVec3,
    /// Unit direction that runs up in the view.
    pub up: DVec3,
    /// Unit direction from the frame to the viewer.
    pub towards: DVec3,
}

impl Look {
    /// From in front: the frame's left is on the right.
    pub const FRONT: Self = Self { right: DVec3::Y, up: DVec3::Z, towards: DVec3::X };

    /// From behind.
    pub const REAR: Self = Self { right: DVec3::NEG_Y, up: DVec3::Z, towards: DVec3::NEG_X };

    /// From the left: the front is on the left.
    pub const LEFT: Self = Self { right: DVec3::NEG_X, up: DVec3::Z, towards: DVec3::Y };

    /// From the right.
    pub const RIGHT: Self = Self { right: DVec3::X, up: DVec3::Z, towards: DVec3::NEG_Y };

    /// From above, the front on the left and the left side at the bottom, as a plan stands over the view from the left.
    pub const TOP: Self = Self { right: DVec3::NEG_X, up: DVec3::NEG_Y, towards: DVec3::Z };

    /// Isometric (ISO 5456-3), from the front, the left and above.
    #[must_use]
    pub fn pictorial() -> Self {
        Self::from(DVec3::ONE).unwrap_or(Self::FRONT)
    }

    /// From where the frame is seen when the viewer stands in direction `viewer`, upright things upright; `None` when that is
    /// no direction.
    #[must_use]
    pub fn from(viewer: DVec3) -> Option<Self> {
        let towards = viewer.try_normalize()?;
        let right = DVec3::Z.cross(towards);
        if right.length() < 1e-9 {
            return Some(Self { right: DVec3::NEG_X, up: towards.cross(DVec3::NEG_X), towards });
        }
        let right = right.normalize();
        Some(Self { right, up: towards.cross(right), towards })
    }

    /// The direction of a name, or of three figures `x,y,z` from the frame to the viewer.
    #[must_use]
    pub fn named(name: &str) -> Option<Self> {
        match name {
            "front" => Some(Self::FRONT),
            "rear" => Some(Self::REAR),
            "left" => Some(Self::LEFT),
            "right" => Some(Self::RIGHT),
            "top" => Some(Self::TOP),
            "pictorial" => Some(Self::pictorial()),
            _ => {
                let figures: Vec<f64> =
                    name.split(',').map(|figure| figure.trim().parse().ok()).collect::<Option<_>>()?;
                let [x, y, z] = figures[..] else { return None };
                let is_fit = [x, y, z].iter().all(|figure| figure.abs() <= 1e6);
                Self::from(DVec3::new(x, y, z)).filter(|_| is_fit)
            }
        }
    }

    /// Where a point is seen, mm.
    #[must_use]
    pub fn flat(&self, point: DVec3) -> Point {
        [point.dot(self.right), point.dot(self.up)]
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_view_is_right_handed_and_a_direction_gives_the_named_one() {
        for (name, towards) in [
            ("front", DVec3::X),
            ("rear", -DVec3::X),
            ("left", DVec3::Y),
            ("right", -DVec3::Y),
            ("top", DVec3::Z),
            ("pictorial", DVec3::ONE.normalize()),
        ] {
            let look = Look::named(name).unwrap();
            assert!((look.right.cross(look.up) - look.towards).length() < 1e-12, "{name}");
            assert!((look.towards - towards).length() < 1e-12, "{name}");
            let by_figures = Look::named(&format!("{},{},{}", towards.x, towards.y, towards.z)).unwrap();
            assert!((by_figures.right - look.right).length() < 1e-12, "{name}");
        }
        for nonsense in ["", "up", "0,0,0", "1,2", "1,2,3,4", "nan,0,1", "1e300,0,1", "inf,0,0"] {
            assert_eq!(Look::named(nonsense), None, "{nonsense}");
        }
    }
}
