//! Shapes as figures seen from a point, equal for shapes of which one is the other moved along without a turn.

use super::{Beam, Cope, CutBar, Cylinder, DVec3, HalfSpace, Piece, Profile, RoundedPrism, TorusSector};

/// Lengths and angles that round to the same of these are the same, mm and radians.
const LENGTH: f64 = 1e-9;

/// The same of parts of unit vectors.
const DIRECTION: f64 = 1e-12;

/// Figures of shapes, and the point from which they are seen.
#[derive(Debug, Clone, PartialEq)]
pub struct Figures {
    from: DVec3,
    list: Vec<i64>,
}

impl Figures {
    /// No figures yet.
    #[must_use]
    pub fn seen_from(from: DVec3) -> Self {
        Self { from, list: Vec::new() }
    }

    /// All figures in their order, to be compared with those of others.
    #[must_use]
    pub fn into_list(self) -> Vec<i64> {
        self.list
    }

    /// Adds a number that names or counts something.
    pub fn count(&mut self, count: usize) {
        self.list.push(i64::try_from(count).unwrap_or(i64::MAX));
    }

    /// Adds a length, mm, or an angle, radians.
    pub fn length(&mut self, length: f64) {
        self.in_steps(length, LENGTH);
    }

    /// Adds a point.
    pub fn point(&mut self, point: DVec3) {
        (point - self.from).to_array().into_iter().for_each(|part| self.length(part));
    }

    /// Adds a unit direction.
    pub fn direction(&mut self, direction: DVec3) {
        direction.to_array().into_iter().for_each(|part| self.in_steps(part, DIRECTION));
    }

    #[allow(clippy::cast_possible_truncation, reason = "what is out of bounds is bounded")]
    fn in_steps(&mut self, value: f64, step: f64) {
        self.list.push((value / step).round() as i64);
    }

    /// Adds an outline.
    pub fn profile(&mut self, profile: Profile) {
        match profile {
            Profile::Round { outer, wall } => {
                self.count(0);
                [outer, wall].into_iter().for_each(|length| self.length(length));
            }
            Profile::Rect { half_width, half_height, corner, wall } => {
                self.count(1);
                [half_width, half_height, corner, wall].into_iter().for_each(|length| self.length(length));
            }
        }
    }

    /// Adds a plane.
    pub fn plane(&mut self, plane: &HalfSpace) {
        self.point(plane.point);
        self.direction(plane.normal);
    }

    /// Adds rays side by side.
    pub fn beam(&mut self, beam: &Beam) {
        self.point(beam.origin);
        [beam.x, beam.y, beam.direction].into_iter().for_each(|direction| self.direction(direction));
    }

    /// Adds a piece; false, and no longer to be compared, for a plate.
    #[must_use]
    pub fn piece(&mut self, piece: &Piece) -> bool {
        match piece {
            Piece::Cylinder(Cylinder { point, axis, radius, length }) => {
                self.count(0);
                self.point(*point);
                self.direction(*axis);
                self.length(*radius);
                self.length(length.unwrap_or(f64::INFINITY));
            }
            Piece::Torus(TorusSector { centre, axis, start, angle, bend_radius, radius }) => {
                self.count(1);
                self.point(*centre);
                [axis, start].into_iter().for_each(|direction| self.direction(*direction));
                [angle, bend_radius, radius].into_iter().for_each(|length| self.length(*length));
            }
            Piece::Prism(RoundedPrism { point, axis, across, half, corner, length }) => {
                self.count(2);
                self.point(*point);
                [axis, across].into_iter().for_each(|direction| self.direction(*direction));
                [half[0], half[1], *corner, length.unwrap_or(f64::INFINITY)]
                    .into_iter()
                    .for_each(|one| self.length(one));
            }
            Piece::HalfSpace(plane) => {
                self.count(3);
                self.plane(plane);
            }
            Piece::Cut(bar) => {
                self.count(4);
                return self.cut_bar(bar);
            }
            Piece::Plate(_) => return false,
        }
        true
    }

    fn cut_bar(&mut self, CutBar { bar, planes, copes }: &CutBar) -> bool {
        for plane in planes {
            self.count(usize::from(plane.is_some()));
            plane.iter().for_each(|plane| self.plane(plane));
        }
        let mut is_whole = self.piece(bar);
        for cope in copes {
            self.count(usize::from(cope.is_some()));
            if let Some(Cope { lines, back, least, obstacles, runs_on }) = cope {
                self.beam(lines);
                [back, least].into_iter().for_each(|length| self.length(*length));
                self.count(usize::from(*runs_on));
                self.count(obstacles.len());
                is_whole &= obstacles.iter().all(|obstacle| self.piece(obstacle.piece()));
            }
        }
        is_whole
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn figures(from: DVec3, piece: &Piece) -> Vec<i64> {
        let mut figures = Figures::seen_from(from);
        assert!(figures.piece(piece));
        figures.into_list()
    }

    #[test]
    fn a_shape_moved_along_has_the_same_figures() {
        let bar = |by: DVec3, axis: DVec3| {
            let point = DVec3::new(10.1, -20.2, 30.3) + by;
            Piece::Cylinder(Cylinder { point, axis, radius: 12.5, length: Some(300.0) })
        };
        let by = DVec3::new(333.3, 0.1, -77.7);
        let one = figures(DVec3::ONE, &bar(DVec3::ZERO, DVec3::X));
        assert_eq!(one, figures(DVec3::ONE + by, &bar(by, DVec3::X)));
        assert_ne!(one, figures(DVec3::ONE + by, &bar(by, DVec3::Y)));
        assert_ne!(one, figures(DVec3::ONE, &bar(by, DVec3::X)));
    }
}
