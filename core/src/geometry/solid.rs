//! What a ray can meet: unions of simple pieces.

use super::{CutBar, Cylinder, DVec3, HalfSpace, Plate, Ray, RoundedPrism, TorusSector, turned};

/// One simple solid.
#[derive(Debug, Clone, PartialEq)]
pub enum Piece {
    /// A round bar.
    Cylinder(Cylinder),
    /// A bend of a round bar.
    Torus(TorusSector),
    /// A rectangular bar.
    Prism(RoundedPrism),
    /// A flat plate.
    Plate(Plate),
    /// One side of a plane.
    HalfSpace(HalfSpace),
    /// A bar as its cut ends left it.
    Cut(Box<CutBar>),
}

impl Piece {
    /// Calls `visit(enter, leave)` for each stretch of the ray inside.
    pub fn intervals(&self, ray: &Ray, mut visit: impl FnMut(f64, f64)) {
        match self {
            Self::Cylinder(cylinder) => {
                if let Some((enter, leave)) = cylinder.interval(ray) {
                    visit(enter, leave);
                }
            }
            Self::Torus(torus) => torus.intervals(ray, visit),
            Self::Prism(prism) => {
                if let Some((enter, leave)) = prism.interval(ray) {
                    visit(enter, leave);
                }
            }
            Self::Plate(plate) => plate.intervals(ray, visit),
            Self::HalfSpace(half_space) => {
                if let Some((enter, leave)) = half_space.interval(ray) {
                    visit(enter, leave);
                }
            }
            Self::Cut(bar) => {
                if let Some((enter, leave)) = bar.interval(ray) {
                    visit(enter, leave);
                }
            }
        }
    }

    /// The first place at or after `start` where the ray is inside; `start` itself when it is inside there already.
    #[must_use]
    pub fn first(&self, ray: &Ray, start: f64) -> Option<f64> {
        let mut first: Option<f64> = None;
        self.intervals(ray, |enter, leave| {
            if leave >= start {
                let at = enter.max(start);
                first = Some(first.map_or(at, |first| first.min(at)));
            }
        });
        first
    }

    /// A ball that holds the whole piece: centre and radius; `None` for a piece without bounds.
    #[must_use]
    pub fn ball(&self) -> Option<(DVec3, f64)> {
        match self {
            Self::Cylinder(bar) => {
                let half = bar.length? / 2.0;
                Some((bar.point + bar.axis * half, libm::hypot(half, bar.radius)))
            }
            Self::Torus(bend) => {
                let middle = bend.centre + turned(bend.start, bend.axis, bend.angle / 2.0) * bend.bend_radius;
                Some((middle, 2.0 * bend.bend_radius * libm::sin(bend.angle / 4.0) + bend.radius))
            }
            Self::Prism(bar) => {
                let half = bar.length? / 2.0;
                Some((bar.point + bar.axis * half, libm::hypot(half, libm::hypot(bar.half[0], bar.half[1]))))
            }
            Self::Plate(plate) => Some(plate.ball()),
            Self::HalfSpace(_) => None,
            Self::Cut(bar) => bar.bar.ball(),
        }
    }

    /// What no point of it comes nearer by to the ray between `from` and `to`, mm; below zero where it may lie on both sides.
    #[must_use]
    pub fn apart_at_least(&self, ray: &Ray, [from, to]: [f64; 2]) -> f64 {
        if let Some(&Cylinder { point, axis, radius, length: Some(length) }) = self.round() {
            let axis = Ray { origin: point, direction: axis };
            return ray.apart([from, to], &axis, [0.0, length]) - radius;
        }
        self.ball().map_or(f64::NEG_INFINITY, |(centre, radius)| {
            let along = (centre - ray.origin).dot(ray.direction).clamp(from, to);
            ray.at(along).distance(centre) - radius
        })
    }

    /// False when no point of it comes within `reach` of the ray between `from` and `to`.
    #[must_use]
    pub fn may_come_near(&self, ray: &Ray, stretch: [f64; 2], reach: f64) -> bool {
        self.apart_at_least(ray, stretch) <= reach
    }

    /// True when the straight line between any two of its points stays inside.
    #[must_use]
    pub fn is_convex(&self) -> bool {
        match self {
            Self::Torus(_) | Self::Plate(_) => false,
            Self::Cut(bar) => bar.copes.iter().all(Option::is_none),
            _ => true,
        }
    }

    /// The round bar that it is or was, if it is a straight round one.
    #[must_use]
    pub fn round(&self) -> Option<&Cylinder> {
        match self {
            Self::Cylinder(bar) => Some(bar),
            Self::Cut(bar) => bar.round(),
            _ => None,
        }
    }

    /// The place in it that lies nearest to a point: the point itself when it lies inside. Of a plate and a bend only near them.
    pub(super) fn nearest(&self, point: DVec3) -> DVec3 {
        match self {
            Self::Cylinder(bar) => bar.nearest(point),
            Self::Prism(bar) => bar.nearest(point),
            Self::Cut(bar) => bar.nearest(point),
            Self::Torus(_) | Self::Plate(_) | Self::HalfSpace(_) => {
                point - self.normal(point) * self.distance(point).max(0.0)
            }
        }
    }

    /// How far a point lies outside, mm; 0 inside. Of a bend that of the whole ring.
    #[must_use]
    pub fn away(&self, point: DVec3) -> f64 {
        match self {
            Self::Cylinder(_) | Self::Prism(_) | Self::Cut(_) => self.nearest(point).distance(point),
            Self::Plate(plate) => plate.away(point),
            Self::Torus(_) | Self::HalfSpace(_) => self.distance(point).max(0.0),
        }
    }

    /// Signed distance of a point from the sides of a bar, negative inside, as if the bar had no ends; of other pieces from the
    /// surface.
    #[must_use]
    pub fn beside(&self, point: DVec3) -> f64 {
        match self {
            Self::Cylinder(bar) => Cylinder { length: None, ..*bar }.distance(point),
            Self::Prism(bar) => RoundedPrism { length: None, ..*bar }.distance(point),
            Self::Cut(bar) => bar.bar.beside(point),
            Self::Torus(_) | Self::Plate(_) | Self::HalfSpace(_) => self.distance(point),
        }
    }

    /// Outward unit normal at a point of the surface.
    #[must_use]
    pub fn normal(&self, point: DVec3) -> DVec3 {
        match self {
            Self::Cylinder(cylinder) => cylinder.normal(point),
            Self::Torus(torus) => torus.normal(point),
            Self::Prism(prism) => prism.normal(point),
            Self::Plate(plate) => plate.normal(point),
            Self::HalfSpace(half_space) => half_space.normal,
            Self::Cut(bar) => bar.normal(point),
        }
    }

    /// Signed distance of a point from the surface, negative inside; for a bend that of the whole ring.
    #[must_use]
    pub fn distance(&self, point: DVec3) -> f64 {
        match self {
            Self::Cylinder(cylinder) => cylinder.distance(point),
            Self::Torus(torus) => torus.distance(point),
            Self::Prism(prism) => prism.distance(point),
            Self::Plate(plate) => plate.distance(point),
            Self::HalfSpace(half_space) => half_space.distance(point),
            Self::Cut(bar) => bar.distance(point),
        }
    }
}

/// A union of pieces. Seams between pieces need no care: inside a union a seam is never met first.
#[derive(Debug, Clone, PartialEq)]
pub struct Solid {
    pieces: Vec<Piece>,
}

/// Where a ray first meets a solid.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Hit {
    /// Parameter of the ray, mm.
    pub s: f64,
    /// Which piece is met.
    pub piece: usize,
}

impl Solid {
    /// The union of `pieces`.
    #[must_use]
    pub fn new(pieces: Vec<Piece>) -> Self {
        Self { pieces }
    }

    /// Its pieces.
    #[must_use]
    pub fn pieces(&self) -> &[Piece] {
        &self.pieces
    }

    /// The union of those pieces that come within `reach` of the ray between `start` and `limit`.
    #[must_use]
    pub fn near(&self, ray: &Ray, start: f64, limit: f64, reach: f64) -> Self {
        let is_near = |piece: &&Piece| piece.may_come_near(ray, [start, limit], reach);
        Self { pieces: self.pieces.iter().filter(is_near).cloned().collect() }
    }

    /// The first place at or after `start` where the ray is inside.
    #[must_use]
    pub fn first(&self, ray: &Ray, start: f64) -> Option<Hit> {
        let mut best: Option<Hit> = None;
        for (piece, solid) in self.pieces.iter().enumerate() {
            if let Some(s) = solid.first(ray, start)
                && best.is_none_or(|best| s < best.s)
            {
                best = Some(Hit { s, piece });
            }
        }
        best
    }

    /// Least distance of a point from the surface, negative inside.
    #[must_use]
    pub fn distance(&self, point: DVec3) -> f64 {
        let inside_wedge = |piece: &&Piece| match piece {
            Piece::Torus(torus) => torus.in_wedge(point),
            _ => true,
        };
        self.pieces.iter().filter(inside_wedge).map(|piece| piece.distance(point)).fold(f64::INFINITY, f64::min)
    }
}
