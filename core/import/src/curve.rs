//! Lines and arcs in space, as files draw them.

use glam::{DAffine3, DVec3};

/// Relative difference up to which a stretched circle counts as a circle.
const ROUND: f64 = 1e-6;
/// Greatest turn of one corner: beyond this the corner runs off towards infinity. 120 degrees.
const GREATEST_TURN: f64 = 2.0 * core::f64::consts::FRAC_PI_3 + 1e-9;

/// An arc of a circle, or all of it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Arc {
    /// Centre.
    pub centre: DVec3,
    /// Unit vector from the centre to the first end.
    pub start: DVec3,
    /// Unit normal: the arc runs right-handed about it.
    pub normal: DVec3,
    /// Radius.
    pub radius: f64,
    /// Angle from the first end to the last, above 0 and at most a full turn, radians.
    pub sweep: f64,
}

impl Arc {
    /// The place at an angle from the first end.
    #[must_use]
    pub fn at(&self, angle: f64) -> DVec3 {
        self.centre + self.radius * self.direction(angle)
    }

    /// Unit vector from the centre to the place at an angle.
    #[must_use]
    pub fn direction(&self, angle: f64) -> DVec3 {
        self.start * angle.cos() + self.normal.cross(self.start) * angle.sin()
    }

    /// Unit tangent at an angle.
    #[must_use]
    pub fn tangent(&self, angle: f64) -> DVec3 {
        self.normal.cross(self.direction(angle))
    }

    /// True for a full circle.
    #[must_use]
    pub fn is_ring(&self) -> bool {
        self.sweep > core::f64::consts::TAU - 1e-6
    }

    /// The arc from end to start.
    #[must_use]
    pub fn reversed(&self) -> Self {
        Self { start: self.direction(self.sweep), normal: -self.normal, ..*self }
    }

    /// Corners of a path that bends along this: where the tangents of equal shares of it meet. One, or more for great turns.
    #[must_use]
    pub fn corners(&self) -> Vec<DVec3> {
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "1 to 3")]
        let count = (self.sweep / GREATEST_TURN).ceil().clamp(1.0, 3.0) as u32;
        let share = self.sweep / f64::from(count);
        let middle = |index: u32| share * (f64::from(index) + 0.5);
        (0..count)
            .map(|index| self.centre + self.direction(middle(index)) * (self.radius / (share / 2.0).cos()))
            .collect()
    }

    /// The arc through three places in order; `None` when they are in line.
    #[must_use]
    pub fn through(a: DVec3, b: DVec3, c: DVec3) -> Option<Self> {
        let (u, v) = (b - a, c - a);
        let w = u.cross(v);
        let area = w.length_squared();
        if area <= 1e-24 * (u.length_squared() * v.length_squared()).max(f64::MIN_POSITIVE) {
            return None;
        }
        let offset = (w.cross(u) * v.length_squared() + v.cross(w) * u.length_squared()) / (2.0 * area);
        let (centre, radius) = (a + offset, offset.length());
        let normal = w.normalize();
        let start = -offset / radius;
        let end = (c - centre) / radius;
        let angle = normal.dot(start.cross(end)).atan2(start.dot(end)).rem_euclid(core::f64::consts::TAU);
        (centre.is_finite() && radius.is_finite()).then_some(Self { centre, start, normal, radius, sweep: angle })
    }

    fn moved(&self, by: &DAffine3) -> Option<Self> {
        let u = by.transform_vector3(self.start * self.radius);
        let v = by.transform_vector3(self.normal.cross(self.start) * self.radius);
        let radius = u.length();
        let is_round = (v.length() - radius).abs() <= ROUND * radius && u.dot(v).abs() <= ROUND * radius * radius;
        (is_round && radius > 0.0).then(|| Self {
            centre: by.transform_point3(self.centre),
            start: u / radius,
            normal: u.cross(v).normalize(),
            radius,
            sweep: self.sweep,
        })
    }
}

/// A straight line or an arc.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Piece {
    /// From one place to another.
    Line(DVec3, DVec3),
    /// Along an arc.
    Arc(Arc),
}

impl Piece {
    /// First end.
    #[must_use]
    pub fn first(&self) -> DVec3 {
        match self {
            Self::Line(a, _) => *a,
            Self::Arc(arc) => arc.at(0.0),
        }
    }

    /// Last end.
    #[must_use]
    pub fn last(&self) -> DVec3 {
        match self {
            Self::Line(_, b) => *b,
            Self::Arc(arc) => arc.at(arc.sweep),
        }
    }

    /// Unit direction of travel at the first end.
    #[must_use]
    pub fn sets_out(&self) -> DVec3 {
        match self {
            Self::Line(a, b) => (*b - *a).normalize_or_zero(),
            Self::Arc(arc) => arc.tangent(0.0),
        }
    }

    /// Unit direction of travel at the last end.
    #[must_use]
    pub fn arrives(&self) -> DVec3 {
        match self {
            Self::Line(a, b) => (*b - *a).normalize_or_zero(),
            Self::Arc(arc) => arc.tangent(arc.sweep),
        }
    }

    /// Length.
    #[must_use]
    pub fn length(&self) -> f64 {
        match self {
            Self::Line(a, b) => a.distance(*b),
            Self::Arc(arc) => arc.radius * arc.sweep,
        }
    }

    /// The same from last to first.
    #[must_use]
    pub fn reversed(&self) -> Self {
        match self {
            Self::Line(a, b) => Self::Line(*b, *a),
            Self::Arc(arc) => Self::Arc(arc.reversed()),
        }
    }

    /// The piece moved, turned, mirrored or scaled; `None` when a circle would become an ellipse.
    #[must_use]
    pub fn moved(&self, by: &DAffine3) -> Option<Self> {
        match self {
            Self::Line(a, b) => Some(Self::Line(by.transform_point3(*a), by.transform_point3(*b))),
            Self::Arc(arc) => arc.moved(by).map(Self::Arc),
        }
    }
}

/// What one entity of a file draws: pieces end to end.
#[derive(Debug, Clone)]
pub struct Curve {
    /// The pieces, each beginning where the one before ends.
    pub pieces: Vec<Piece>,
    /// True when the last piece ends where the first begins.
    pub closed: bool,
    /// Layer or name that says which section it is; empty where nothing does.
    pub layer: String,
    /// Where it stands, in words.
    pub place: String,
}

impl Curve {
    /// The curve moved; `None` when a circle would become an ellipse.
    #[must_use]
    pub fn moved(&self, by: &DAffine3) -> Option<Self> {
        let pieces = self.pieces.iter().map(|piece| piece.moved(by)).collect::<Option<Vec<_>>>()?;
        Some(Self { pieces, closed: self.closed, layer: self.layer.clone(), place: self.place.clone() })
    }
}

/// A tube as a file tells it, or as it was found in curves: its corners and what is known of it.
#[derive(Debug, Clone, Default)]
pub struct Tube {
    /// Name in the source; empty where it has none.
    pub name: String,
    /// Layer or section in the source; empty where it has none.
    pub layer: String,
    /// Its size, where the source tells it.
    pub size: Option<crate::answers::Size>,
    /// Grade of its material, where the source tells it.
    pub material: Option<String>,
    /// First end, corners, last end.
    pub points: Vec<DVec3>,
    /// Names of these points in the source; empty texts where they have none.
    pub point_names: Vec<String>,
    /// Bend radius at each corner between; `None` where it is not told.
    pub radii: Vec<Option<f64>>,
    /// For a rectangular tube: the direction of its height.
    pub height: Option<DVec3>,
    /// A word to the fitter in the source; empty where there is none.
    pub note: String,
    /// Where it stands, in words.
    pub place: String,
}

impl Tube {
    /// The tube moved, mirrored or scaled alike in all directions by `scale`.
    #[must_use]
    pub fn moved(mut self, by: &DAffine3, scale: f64) -> Self {
        for point in &mut self.points {
            *point = by.transform_point3(*point);
        }
        for radius in self.radii.iter_mut().flatten() {
            *radius *= scale;
        }
        self.height = self.height.map(|height| by.transform_vector3(height).normalize_or_zero());
        self
    }
}

#[cfg(test)]
mod tests {
    use super::{Arc, Piece};
    use glam::{DAffine3, DVec3, dvec3};
    use std::f64::consts::{FRAC_PI_2, PI};

    #[test]
    fn an_arc_through_three_places_keeps_to_them() {
        // Closed form: a circle of radius 5 about (1, 2, 3) in the plane z = 3.
        let at = |degrees: f64| {
            dvec3(1.0, 2.0, 3.0) + 5.0 * dvec3(degrees.to_radians().cos(), degrees.to_radians().sin(), 0.0)
        };
        let arc = Arc::through(at(350.0), at(100.0), at(210.0)).unwrap();
        assert!(arc.centre.distance(dvec3(1.0, 2.0, 3.0)) < 1e-9 && (arc.radius - 5.0).abs() < 1e-9);
        assert!((arc.sweep.to_degrees() - 220.0).abs() < 1e-9);
        assert!(Arc::through(at(0.0), at(0.0), at(1.0)).is_none());
        assert!(Arc::through(DVec3::ZERO, DVec3::X, 2.0 * DVec3::X).is_none());
    }

    #[test]
    fn a_mirrored_arc_passes_through_the_mirrored_places() {
        let arc = Arc { centre: DVec3::X, start: DVec3::X, normal: DVec3::Z, radius: 2.0, sweep: 1.0 };
        let mirror = DAffine3::from_scale(dvec3(1.0, -1.0, 1.0));
        let Some(Piece::Arc(other)) = Piece::Arc(arc).moved(&mirror) else { panic!("no longer round") };
        for angle in [0.0, 0.4, 1.0] {
            assert!(other.at(angle).distance(mirror.transform_point3(arc.at(angle))) < 1e-12);
        }
        assert!(Piece::Arc(arc).moved(&DAffine3::from_scale(dvec3(1.0, 2.0, 1.0))).is_none());
    }

    #[test]
    fn a_quarter_has_one_corner_and_a_half_turn_two() {
        // Closed forms: the corner of a quarter circle is (r, r) from its centre; those of a half turn are 2r apart.
        let arc = |sweep| Arc { centre: DVec3::ZERO, start: DVec3::X, normal: DVec3::Z, radius: 50.0, sweep };
        let [corner] = arc(FRAC_PI_2).corners()[..] else { panic!("not one corner") };
        assert!(corner.distance(dvec3(50.0, 50.0, 0.0)) < 1e-9);
        let [first, last] = arc(PI).corners()[..] else { panic!("not two corners") };
        assert!(first.distance(dvec3(50.0, 50.0, 0.0)) < 1e-9 && last.distance(dvec3(-50.0, 50.0, 0.0)) < 1e-9);
    }
}
