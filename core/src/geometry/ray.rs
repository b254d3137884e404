//! Half-lines.

use super::DVec3;

/// Points `origin + s * direction`, `direction` of unit length, `s` in mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Ray {
    /// Where `s` is 0.
    pub origin: DVec3,
    /// Unit direction.
    pub direction: DVec3,
}

impl Ray {
    /// The point at parameter `s`.
    #[must_use]
    pub fn at(&self, s: f64) -> DVec3 {
        self.origin + self.direction * s
    }
}
