//! What a ray can meet: unions of simple pieces.

use super::cut_bar::{CutBarView, Left};
use super::cylinder::CylinderView;
use super::half_space::HalfSpaceView;
use super::prism::PrismView;
use super::torus::TorusView;
use super::{Beam, CutBar, Cylinder, DVec3, Extremes, Field, HalfSpace, Plate, Ray, RoundedPrism, TorusSector, Way, turned};

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
    Cut(CutBar),
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

    /// False when no point of it comes within `reach` of the ray between `from` and `to`.
    #[must_use]
    pub fn may_come_near(&self, ray: &Ray, [from, to]: [f64; 2], reach: f64) -> bool {
        if let Some(&Cylinder { point, axis, radius, length: Some(length) }) = self.round() {
            let axis = Ray { origin: point, direction: axis };
            return ray.apart([from, to], &axis, [0.0, length]) <= radius + reach;
        }
        self.ball().is_none_or(|(centre, radius)| {
            let along = (centre - ray.origin).dot(ray.direction).clamp(from, to);
            ray.at(along).distance(centre) <= radius + reach
        })
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

/// A piece as a beam sees it: what depends on the direction of the rays alone is computed once.
#[derive(Debug, Clone, PartialEq)]
pub struct View(Seen);

#[derive(Debug, Clone, PartialEq)]
enum Seen {
    Cylinder(CylinderView),
    Torus(TorusView),
    Prism(PrismView),
    HalfSpace(HalfSpaceView),
    Cut(Box<CutBarView>),
    /// No shorter way is known than ray by ray.
    Plain(Plain),
}

#[derive(Debug, Clone, PartialEq)]
struct Plain {
    piece: Piece,
    beam: Beam,
}

/// Where a ray of a beam first meets a piece.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Sight {
    /// Parameter of the ray, mm; infinite where it misses.
    pub s: f64,
    /// Which smooth face of the piece is met.
    pub face: u8,
}

impl Sight {
    /// The ray misses.
    pub const MISS: Self = Self { s: f64::INFINITY, face: 0 };
}

/// The least parameter at which rays along a straight way meet a piece.
pub(super) enum Least {
    /// After so much of the way, mm.
    At(f64, Sight),
    /// No ray meets it.
    Nowhere,
    /// There is no closed form for it; search.
    Unknown,
}

/// What can be asked of a piece as a beam sees it.
pub(super) trait Sees {
    /// The first place at or after `start` where the ray through `place` is inside.
    fn first(&self, place: [f64; 2], start: f64) -> Sight;

    /// Outward unit normal where a ray meets the piece, in [`Beam::components`].
    fn normal(&self, place: [f64; 2], sight: Sight) -> DVec3;

    /// Both at once; the normal of a miss means nothing.
    fn first_and_normal(&self, place: [f64; 2], start: f64) -> (Sight, DVec3) {
        let sight = self.first(place, start);
        (sight, self.normal(place, sight))
    }

    /// The least parameter over the rays on the way from `place` by `depth` along the unit vector `inwards`.
    fn least(&self, place: [f64; 2], inwards: [f64; 2], depth: f64, start: f64) -> Least {
        let _ = (place, inwards, depth, start);
        Least::Unknown
    }

    /// True when the straight line between any two points of the piece stays inside.
    fn is_convex(&self) -> bool {
        true
    }
}

impl Sees for Plain {
    fn first(&self, place: [f64; 2], start: f64) -> Sight {
        self.piece.first(&self.beam.ray(place), start).map_or(Sight::MISS, |s| Sight { s, face: 0 })
    }

    fn normal(&self, place: [f64; 2], sight: Sight) -> DVec3 {
        self.beam.components(self.piece.normal(self.beam.ray(place).at(sight.s)))
    }

    fn is_convex(&self) -> bool {
        self.piece.is_convex()
    }
}

impl View {
    /// How the rays of `beam` in the `field` see `piece`; `None` when none of them can meet it.
    #[must_use]
    pub fn new(piece: &Piece, beam: &Beam, field: &Field) -> Option<Self> {
        let plain = || Seen::Plain(Plain { piece: piece.clone(), beam: *beam });
        let seen = match piece {
            Piece::Cylinder(bar) => match CylinderView::new(bar, beam) {
                Some(view) => Seen::Cylinder(view.within(field)?),
                None => plain(),
            },
            Piece::Torus(bend) => {
                let view = TorusView::new(bend, beam);
                if !view.is_in_sight(field) {
                    return None;
                }
                Seen::Torus(view)
            }
            Piece::HalfSpace(half_space) => HalfSpaceView::new(half_space, beam).map_or_else(plain, Seen::HalfSpace),
            Piece::Plate(plate) => {
                let face = plate.face_before(beam, field.reach).and_then(|face| HalfSpaceView::new(&face, beam));
                face.filter(|face| face.is_after(field)).map_or_else(plain, Seen::HalfSpace)
            }
            Piece::Prism(bar) => Seen::Prism(PrismView::new(bar, beam).within(field)?),
            Piece::Cut(bar) => match CutBarView::new(bar, beam, field) {
                Left::Nothing => return None,
                Left::Whole(view) => Seen::Cylinder(view),
                Left::Cut(view) => Seen::Cut(view),
            },
        };
        Some(Self(seen))
    }

    /// True when no edge of the piece can be met.
    #[must_use]
    pub fn is_smooth(&self) -> bool {
        match &self.0 {
            Seen::Cylinder(view) => view.is_endless(),
            Seen::HalfSpace(_) => true,
            Seen::Torus(_) | Seen::Prism(_) | Seen::Cut(_) | Seen::Plain(_) => false,
        }
    }

    /// The first place at or after `start` where the ray through `place` is inside.
    #[must_use]
    pub fn first(&self, place: [f64; 2], start: f64) -> Sight {
        match &self.0 {
            Seen::Cylinder(view) => view.first(place, start),
            Seen::Torus(view) => view.first(place, start),
            Seen::Prism(view) => view.first(place, start),
            Seen::HalfSpace(view) => view.first(place, start),
            Seen::Cut(view) => view.first(place, start),
            Seen::Plain(view) => view.first(place, start),
        }
    }

    /// Outward unit normal where a ray meets the piece, in [`Beam::components`].
    #[must_use]
    pub fn normal(&self, place: [f64; 2], sight: Sight) -> DVec3 {
        match &self.0 {
            Seen::Cylinder(view) => view.normal(place, sight),
            Seen::Torus(view) => view.normal(place, sight),
            Seen::Prism(view) => view.normal(place, sight),
            Seen::HalfSpace(view) => view.normal(place, sight),
            Seen::Cut(view) => view.normal(place, sight),
            Seen::Plain(view) => view.normal(place, sight),
        }
    }

    /// Which rays on a straight way meet the piece first.
    #[must_use]
    #[inline]
    pub fn extremes(&self, way: &Way) -> Extremes {
        match &self.0 {
            Seen::Cylinder(view) => way.extremes(view),
            Seen::Torus(view) => way.extremes(view),
            Seen::Prism(view) => way.extremes(view),
            Seen::HalfSpace(view) => way.extremes(view),
            Seen::Cut(view) => way.extremes(&**view),
            Seen::Plain(view) => way.extremes(view),
        }
    }

    /// The same for many ways: `visit` is told what is met on each, in their order. The kind of piece is asked once for all.
    #[inline]
    pub fn each(&self, ways: impl Iterator<Item = Way>, visit: impl FnMut(&Extremes)) {
        match &self.0 {
            Seen::Cylinder(view) => each(view, ways, visit),
            Seen::Torus(view) => each(view, ways, visit),
            Seen::Prism(view) => each(view, ways, visit),
            Seen::HalfSpace(view) => each(view, ways, visit),
            Seen::Cut(view) => each(&**view, ways, visit),
            Seen::Plain(view) => each(view, ways, visit),
        }
    }

    /// The first place of many rays: `visit` is told what [`View::first`] says of each, in their order.
    #[inline]
    pub fn each_first(&self, places: impl Iterator<Item = [f64; 2]>, start: f64, visit: impl FnMut(Sight)) {
        match &self.0 {
            Seen::Cylinder(view) => each_first(view, places, start, visit),
            Seen::Torus(view) => each_first(view, places, start, visit),
            Seen::Prism(view) => each_first(view, places, start, visit),
            Seen::HalfSpace(view) => each_first(view, places, start, visit),
            Seen::Cut(view) => each_first(&**view, places, start, visit),
            Seen::Plain(view) => each_first(view, places, start, visit),
        }
    }
}

#[inline]
fn each_first(view: &impl Sees, places: impl Iterator<Item = [f64; 2]>, start: f64, mut visit: impl FnMut(Sight)) {
    for place in places {
        visit(view.first(place, start));
    }
}

#[inline]
fn each(view: &impl Sees, ways: impl Iterator<Item = Way>, mut visit: impl FnMut(&Extremes)) {
    for way in ways {
        visit(&way.extremes(view));
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
