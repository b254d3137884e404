//! Pieces seen in the mirror across the plane y = 0.

use super::{Cope, CutBar, Cylinder, DVec3, HalfSpace, Obstacle, Piece, Plate, RoundedPrism, TorusSector, turned};

/// Lengths that differ by less are the same, mm.
const SAME: f64 = 1e-9;

/// Unit vectors that differ by less are the same.
const ALONG: f64 = 1e-12;

/// The mirror image across y = 0.
#[must_use]
pub fn mirrored(vector: DVec3) -> DVec3 {
    DVec3::new(vector.x, -vector.y, vector.z)
}

impl Piece {
    /// True when this piece fills the space of the mirror image of `other` across y = 0, however either is written down; of
    /// plates only when they are written down as each other's opposite hand.
    #[must_use]
    pub fn is_mirror_image_of(&self, other: &Self) -> bool {
        match (self, other) {
            (Self::Cylinder(one), Self::Cylinder(other)) => one.is_mirror_image_of(other),
            (Self::Torus(one), Self::Torus(other)) => one.is_mirror_image_of(other),
            (Self::Prism(one), Self::Prism(other)) => one.is_mirror_image_of(other),
            (Self::HalfSpace(one), Self::HalfSpace(other)) => one.is_mirror_image_of(other),
            (Self::Plate(one), Self::Plate(other)) => one.is_mirror_image_of(other),
            (Self::Cut(one), Self::Cut(other)) => one.is_mirror_image_of(other),
            _ => false,
        }
    }
}

fn same_length(one: f64, other: f64) -> bool {
    (one - other).abs() <= SAME
}

fn same_point(one: DVec3, other: DVec3) -> bool {
    one.distance(other) <= SAME
}

fn same_direction(one: DVec3, other: DVec3) -> bool {
    one.distance(other) <= ALONG
}

/// True when both bars lie on one stretch, whichever end each starts from; the second one is given as mirrored already.
fn same_stretch(
    (point, axis, length): (DVec3, DVec3, Option<f64>),
    (other, other_axis, other_length): (DVec3, DVec3, Option<f64>),
) -> bool {
    match (length, other_length) {
        (Some(length), Some(other_length)) => {
            let ends = [point, point + axis * length];
            let others = [other, other + other_axis * other_length];
            let forward = same_direction(axis, other_axis) && same_point(ends[0], others[0]);
            let backward = same_direction(axis, -other_axis) && same_point(ends[0], others[1]);
            same_length(length, other_length) && (forward || backward)
        }
        (None, None) => {
            (same_direction(axis, other_axis) || same_direction(axis, -other_axis))
                && (other - point).reject_from_normalized(axis).length() <= SAME
        }
        _ => false,
    }
}

impl Cylinder {
    fn is_mirror_image_of(&self, other: &Self) -> bool {
        same_length(self.radius, other.radius)
            && same_stretch(
                (self.point, self.axis, self.length),
                (mirrored(other.point), mirrored(other.axis), other.length),
            )
    }
}

impl TorusSector {
    fn is_mirror_image_of(&self, other: &Self) -> bool {
        // In the mirror a turn to the right becomes one to the left.
        let (axis, start) = (-mirrored(other.axis), mirrored(other.start));
        let forward = same_direction(self.axis, axis) && same_direction(self.start, start);
        let backward = same_direction(self.axis, -axis)
            && turned(start, axis, other.angle).distance(self.start) * self.bend_radius <= SAME;
        same_length(self.bend_radius, other.bend_radius)
            && same_length(self.radius, other.radius)
            && (self.angle - other.angle).abs() <= ALONG
            && same_point(self.centre, mirrored(other.centre))
            && (forward || backward)
    }
}

impl RoundedPrism {
    fn is_mirror_image_of(&self, other: &Self) -> bool {
        let across = mirrored(other.across);
        same_length(self.half[0], other.half[0])
            && same_length(self.half[1], other.half[1])
            && same_length(self.corner, other.corner)
            && (same_direction(self.across, across) || same_direction(self.across, -across))
            && same_stretch(
                (self.point, self.axis, self.length),
                (mirrored(other.point), mirrored(other.axis), other.length),
            )
    }
}

impl HalfSpace {
    fn is_mirror_image_of(&self, other: &Self) -> bool {
        same_direction(self.normal, mirrored(other.normal)) && self.distance(mirrored(other.point)).abs() <= SAME
    }
}

impl CutBar {
    fn is_mirror_image_of(&self, other: &Self) -> bool {
        let planes = |one: &Option<HalfSpace>, other: &Option<HalfSpace>| match (one, other) {
            (Some(one), Some(other)) => one.is_mirror_image_of(other),
            (None, None) => true,
            _ => false,
        };
        let copes = |one: &Option<Cope>, other: &Option<Cope>| match (one, other) {
            (Some(one), Some(other)) => one.is_mirror_image_of(other),
            (None, None) => true,
            _ => false,
        };
        self.bar.is_mirror_image_of(&other.bar)
            && (0..2).all(|end| planes(&self.planes[end], &other.planes[end]))
            && (0..2).all(|end| copes(&self.copes[end], &other.copes[end]))
    }
}

impl Cope {
    fn is_mirror_image_of(&self, other: &Self) -> bool {
        let is_image = |one: &Obstacle, other: &Obstacle| other.piece().is_mirror_image_of(one.piece());
        same_point(self.lines.origin, mirrored(other.lines.origin))
            && same_direction(self.lines.direction, mirrored(other.lines.direction))
            && same_length(self.back, other.back)
            && same_length(self.least, other.least)
            && self.obstacles.len() == other.obstacles.len()
            && self.obstacles.iter().all(|one| other.obstacles.iter().any(|other| is_image(one, other)))
    }
}

impl Plate {
    fn is_mirror_image_of(&self, other: &Self) -> bool {
        same_length(self.thickness, other.thickness)
            && same_point(self.origin, mirrored(other.origin))
            && same_direction(self.along, -mirrored(other.along))
            && same_direction(self.across, mirrored(other.across))
            && *self.outline == other.outline.mirrored()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_bar_is_its_mirror_image_from_either_end_and_a_shorter_one_is_not() {
        let axis = DVec3::new(0.6, 0.8, 0.0);
        let bar = Piece::Cylinder(Cylinder { point: DVec3::new(1.0, 2.0, 3.0), axis, radius: 5.0, length: Some(10.0) });
        let image = |point: DVec3, axis: DVec3, length| {
            Piece::Cylinder(Cylinder { point, axis, radius: 5.0, length: Some(length) })
        };
        assert!(image(DVec3::new(1.0, -2.0, 3.0), DVec3::new(0.6, -0.8, 0.0), 10.0).is_mirror_image_of(&bar));
        assert!(image(DVec3::new(7.0, -10.0, 3.0), DVec3::new(-0.6, 0.8, 0.0), 10.0).is_mirror_image_of(&bar));
        assert!(!image(DVec3::new(1.0, -2.0, 3.0), DVec3::new(0.6, -0.8, 0.0), 9.0).is_mirror_image_of(&bar));
        assert!(!bar.is_mirror_image_of(&bar));
    }

    #[test]
    fn a_bend_over_the_middle_is_its_own_mirror_image() {
        let angle = 1.2;
        let start = turned(DVec3::Z, DVec3::X, -0.5 * angle);
        let bend = TorusSector { centre: DVec3::ZERO, axis: DVec3::X, start, angle, bend_radius: 150.0, radius: 20.0 };
        assert!(Piece::Torus(bend).is_mirror_image_of(&Piece::Torus(bend)));
        let to_one_side = TorusSector { start: DVec3::Z, ..bend };
        assert!(!Piece::Torus(to_one_side).is_mirror_image_of(&Piece::Torus(to_one_side)));
        let image = TorusSector { axis: -DVec3::X, ..to_one_side };
        assert!(Piece::Torus(image).is_mirror_image_of(&Piece::Torus(to_one_side)));
    }
}
