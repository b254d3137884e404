//! Tubes built from plain geometry, to be moved about, described from the other end, mirrored and compared.

use matchmark_core::geometry::{Cylinder, DVec3, HalfSpace, Path, Piece, Profile, Solid, square_to, turned};
use matchmark_core::part::compare::{Hole, Shape};
use matchmark_core::part::{Cut, TubeEnd};

/// 42.4 x 2.6, the tube of the ground truth.
pub const ROUND: Profile = Profile::Round { outer: 21.2, wall: 2.6 };

/// 25 x 25 x 2.
pub const SQUARE: Profile = Profile::Rect { half_width: 12.5, half_height: 12.5, corner: 4.0, wall: 2.0 };

/// A hole where it is in space: its axis starts on the centreline.
#[derive(Debug, Clone)]
pub struct Drilled {
    pub centre: DVec3,
    pub towards: DVec3,
    pub diameter: f64,
    pub through: bool,
}

/// A tube, what its ends are cut by, and its holes; only straight tubes have holes here.
#[derive(Debug, Clone)]
pub struct Tube {
    pub profile: Profile,
    pub points: Vec<DVec3>,
    pub radius: f64,
    pub index: DVec3,
    pub targets: [Vec<Piece>; 2],
    pub holes: Vec<Drilled>,
}

impl Tube {
    /// A straight tube from the origin along z, its index line along x, both ends square.
    pub fn straight(profile: Profile, length: f64) -> Self {
        Self::bent(profile, &[DVec3::ZERO, DVec3::Z * length], 0.0)
    }

    /// A tube about a path, both ends square.
    pub fn bent(profile: Profile, points: &[DVec3], radius: f64) -> Self {
        let path = Path::rounded(points, radius).expect("a path");
        let wanted = if path.first().direction.x.abs() > 0.9 { DVec3::Y } else { DVec3::X };
        let index = square_to(path.first().direction, wanted).expect("an index line");
        let tube = Self {
            profile,
            points: points.to_vec(),
            radius,
            index,
            targets: [Vec::new(), Vec::new()],
            holes: Vec::new(),
        };
        tube.mitred(0, 0.0, 0.0, 0.0).mitred(1, 0.0, 0.0, 0.0)
    }

    pub fn path(&self) -> Path {
        Path::rounded(&self.points, self.radius).expect("a path")
    }

    /// Tip, direction into the body, and the direction at a clock angle in degrees of an end.
    fn end(&self, end: usize, clock: f64) -> (DVec3, DVec3, DVec3) {
        let path = self.path();
        let (tip, travel, index) = if end == 0 {
            (path.start(), path.first().direction, self.index)
        } else {
            (path.end(), path.last().direction, path.carried(self.index))
        };
        let inwards = if end == 0 { travel } else { -travel };
        (tip, inwards, turned(index, travel, clock.to_radians()))
    }

    /// An end cut by a plane `lean` degrees from square, its throat at `clock`, and `shift` mm out of the body.
    pub fn mitred(mut self, end: usize, lean: f64, clock: f64, shift: f64) -> Self {
        let (tip, inwards, across) = self.end(end, clock);
        let (sin, cos) = lean.to_radians().sin_cos();
        let plane = HalfSpace { point: tip - inwards * shift, normal: inwards * cos - across * sin };
        self.targets[end] = vec![Piece::HalfSpace(plane)];
        self
    }

    /// An end fitted to a round bar at `angle` degrees to the axis that leans into the body at `clock` and passes the axis by
    /// `offset`, crossing it `shift` mm out of the body.
    pub fn coped(mut self, end: usize, od: f64, angle: f64, clock: f64, offset: f64, shift: f64) -> Self {
        let (tip, inwards, across) = self.end(end, clock);
        let (sin, cos) = angle.to_radians().sin_cos();
        let beside = self.end(end, clock + 90.0).2;
        let point = tip - inwards * shift + beside * offset;
        let bar = Cylinder { point, axis: across * sin + inwards * cos, radius: od / 2.0, length: None };
        self.targets[end] = vec![Piece::Cylinder(bar)];
        self
    }

    /// With a hole at a station and clock angle in degrees.
    pub fn drilled(mut self, station: f64, clock: f64, diameter: f64, through: bool) -> Self {
        let (tip, inwards, towards) = self.end(0, clock);
        self.holes.push(Drilled { centre: tip + inwards * station, towards, diameter, through });
        self
    }

    /// The same tube elsewhere.
    pub fn moved(&self, axis: DVec3, angle: f64, shift: DVec3) -> Self {
        self.carried(|v| turned(v, axis, angle), shift)
    }

    /// Its mirror image across y = 0.
    pub fn mirrored(&self) -> Self {
        self.carried(|v| DVec3::new(v.x, -v.y, v.z), DVec3::ZERO)
    }

    fn carried(&self, turn: impl Fn(DVec3) -> DVec3, shift: DVec3) -> Self {
        let point = |p: DVec3| turn(p) + shift;
        let piece = |piece: &Piece| match piece {
            Piece::Cylinder(bar) => Piece::Cylinder(Cylinder { point: point(bar.point), axis: turn(bar.axis), ..*bar }),
            Piece::HalfSpace(half) => {
                Piece::HalfSpace(HalfSpace { point: point(half.point), normal: turn(half.normal) })
            }
            Piece::Torus(_) | Piece::Prism(_) | Piece::Plate(_) | Piece::Cut(_) => panic!("not used here"),
        };
        Self {
            points: self.points.iter().map(|&p| point(p)).collect(),
            index: turn(self.index),
            targets: self.targets.each_ref().map(|targets| targets.iter().map(piece).collect()),
            holes: self
                .holes
                .iter()
                .map(|hole| Drilled { centre: point(hole.centre), towards: turn(hole.towards), ..hole.clone() })
                .collect(),
            ..self.clone()
        }
    }

    /// The same tube described from its other end.
    pub fn reversed(&self) -> Self {
        let [first, last] = self.targets.clone();
        let mut points = self.points.clone();
        points.reverse();
        Self { points, index: self.path().carried(self.index), targets: [last, first], ..self.clone() }
    }

    /// The same tube with its index line elsewhere by an angle in degrees.
    pub fn indexed(&self, angle: f64) -> Self {
        Self { index: turned(self.index, self.path().first().direction, angle.to_radians()), ..self.clone() }
    }

    pub fn cut(&self, end_number: usize) -> Cut {
        let path = self.path();
        let (datum, inwards, index) = self.end(end_number, 0.0);
        let travel = if end_number == 0 { inwards } else { -inwards };
        let leg = if end_number == 0 { path.first() } else { path.last() };
        let end = TubeEnd { profile: self.profile, datum, outwards: -inwards, index, side: travel.cross(index) };
        let targets = self.targets[end_number].iter().map(|piece| Solid::new(vec![piece.clone()])).collect();
        let start = if path.arcs.is_empty() { -leg.length / 2.0 } else { -leg.length };
        Cut::new(end, targets, start, 200.0)
    }

    /// As it is compared.
    pub fn shape(&self) -> Shape {
        let path = self.path();
        let travel = path.first().direction;
        let holes = self.holes.iter().map(|hole| Hole {
            station: (hole.centre - path.start()).dot(travel),
            clock: clock_of(hole.towards, self.index, travel.cross(self.index)),
            diameter: hole.diameter,
            opposite: hole.through.then(|| clock_of(-hole.towards, self.index, travel.cross(self.index))),
        });
        Shape::of("tube", &path, self.index, [&self.cut(0), &self.cut(1)]).with_holes(holes.collect())
    }
}

fn clock_of(v: DVec3, index: DVec3, side: DVec3) -> f64 {
    v.dot(side).atan2(v.dot(index))
}
