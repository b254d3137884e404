//! What a beam of rays sees of a piece.

use super::cut_bar::{CutBarView, Left};
use super::cylinder::CylinderView;
use super::half_space::HalfSpaceView;
use super::prism::PrismView;
use super::torus::TorusView;
use super::{Beam, DVec3, Extremes, Field, Piece, PlanePath};

/// A piece as a beam sees it: what depends on the direction of the rays alone is computed once.
#[derive(Debug, Clone, PartialEq)]
pub struct View(PieceView);

#[derive(Debug, Clone, PartialEq)]
enum PieceView {
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

    /// True when a sight is that of a convex solid in which the whole piece lies.
    fn is_convex_at(&self, sight: Sight) -> bool {
        let _ = sight;
        self.is_convex()
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
        let plain = || PieceView::Plain(Plain { piece: piece.clone(), beam: *beam });
        let seen = match piece {
            Piece::Cylinder(bar) => match CylinderView::new(bar, beam) {
                Some(view) => PieceView::Cylinder(view.within(field)?),
                None => plain(),
            },
            Piece::Torus(bend) => {
                let view = TorusView::new(bend, beam);
                if !view.is_in_sight(field) {
                    return None;
                }
                PieceView::Torus(view)
            }
            Piece::HalfSpace(half_space) => {
                HalfSpaceView::new(half_space, beam).map_or_else(plain, PieceView::HalfSpace)
            }
            Piece::Plate(plate) => {
                let face = plate.face_before(beam, field.reach).and_then(|face| HalfSpaceView::new(&face, beam));
                face.filter(|face| face.is_after(field)).map_or_else(plain, PieceView::HalfSpace)
            }
            Piece::Prism(bar) => PieceView::Prism(PrismView::new(bar, beam).within(field)?),
            Piece::Cut(bar) => match CutBarView::seen_by(beam, field, bar) {
                Left::Nothing => return None,
                Left::Whole(view) => PieceView::Cylinder(view),
                Left::Cut(view) => PieceView::Cut(view),
            },
        };
        Some(Self(seen))
    }

    /// True when no edge of the piece can be met.
    #[must_use]
    pub fn is_smooth(&self) -> bool {
        match &self.0 {
            PieceView::Cylinder(view) => view.is_endless(),
            PieceView::HalfSpace(_) => true,
            PieceView::Torus(_) | PieceView::Prism(_) | PieceView::Cut(_) | PieceView::Plain(_) => false,
        }
    }

    /// The first place at or after `start` where the ray through `place` is inside.
    #[must_use]
    pub fn first(&self, place: [f64; 2], start: f64) -> Sight {
        match &self.0 {
            PieceView::Cylinder(view) => view.first(place, start),
            PieceView::Torus(view) => view.first(place, start),
            PieceView::Prism(view) => view.first(place, start),
            PieceView::HalfSpace(view) => view.first(place, start),
            PieceView::Cut(view) => view.first(place, start),
            PieceView::Plain(view) => view.first(place, start),
        }
    }

    /// The same, which may be a miss where it lies beyond `limit`.
    #[must_use]
    pub fn first_until(&self, place: [f64; 2], start: f64, limit: f64) -> Sight {
        match &self.0 {
            PieceView::Cut(view) => view.first_until(place, start, limit),
            _ => self.first(place, start),
        }
    }

    /// Outward unit normal where a ray meets the piece, in [`Beam::components`].
    #[must_use]
    pub fn normal(&self, place: [f64; 2], sight: Sight) -> DVec3 {
        match &self.0 {
            PieceView::Cylinder(view) => view.normal(place, sight),
            PieceView::Torus(view) => view.normal(place, sight),
            PieceView::Prism(view) => view.normal(place, sight),
            PieceView::HalfSpace(view) => view.normal(place, sight),
            PieceView::Cut(view) => view.normal(place, sight),
            PieceView::Plain(view) => view.normal(place, sight),
        }
    }

    /// Which rays on a straight way meet the piece first.
    #[must_use]
    #[inline]
    pub fn extremes(&self, way: &PlanePath) -> Extremes {
        match &self.0 {
            PieceView::Cylinder(view) => way.extremes(view),
            PieceView::Torus(view) => way.extremes(view),
            PieceView::Prism(view) => way.extremes(view),
            PieceView::HalfSpace(view) => way.extremes(view),
            PieceView::Cut(view) => way.extremes(&**view),
            PieceView::Plain(view) => way.extremes(view),
        }
    }

    /// The same for many ways, each with what belongs to it: `visit` is told what is met on each, in their order. Ways that meet
    /// the piece no sooner than at their `limit` may be passed over. The kind of piece is asked once for all.
    #[inline]
    pub fn each<T>(
        &self,
        ways: impl Iterator<Item = (PlanePath, T)>,
        limit: impl Fn(&T) -> f64,
        mut visit: impl FnMut(T, &Extremes),
    ) {
        match &self.0 {
            PieceView::Cylinder(view) => each(view, ways, visit),
            PieceView::Torus(view) => each(view, ways, visit),
            PieceView::Prism(view) => each(view, ways, visit),
            PieceView::HalfSpace(view) => each(view, ways, visit),
            PieceView::Cut(view) => {
                for (way, of) in ways.filter(|(way, of)| view.may_come_before(way, limit(of))) {
                    visit(of, &way.extremes(&**view));
                }
            }
            PieceView::Plain(view) => each(view, ways, visit),
        }
    }

    /// False where no ray on a straight way meets the piece before `limit`; it may be true there too.
    #[must_use]
    pub fn may_come_before(&self, way: &PlanePath, limit: f64) -> bool {
        if let PieceView::Cut(view) = &self.0 { view.may_come_before(way, limit) } else { true }
    }

    /// The first place of many rays, each with what belongs to it: `visit` is told what [`View::first`] says of each, in their
    /// order. Of a ray that meets the piece beyond its `limit` it may say that it misses.
    #[inline]
    pub fn each_first<T>(
        &self,
        rays: impl Iterator<Item = ([f64; 2], T)>,
        start: f64,
        limit: impl Fn(&T) -> f64,
        mut visit: impl FnMut(T, Sight),
    ) {
        match &self.0 {
            PieceView::Cylinder(view) => each_first(view, rays, start, visit),
            PieceView::Torus(view) => each_first(view, rays, start, visit),
            PieceView::Prism(view) => each_first(view, rays, start, visit),
            PieceView::HalfSpace(view) => each_first(view, rays, start, visit),
            PieceView::Cut(view) => {
                for (place, of) in rays {
                    let sight = view.first_until(place, start, limit(&of));
                    visit(of, sight);
                }
            }
            PieceView::Plain(view) => each_first(view, rays, start, visit),
        }
    }
}

#[inline]
fn each_first<T>(
    view: &impl Sees,
    rays: impl Iterator<Item = ([f64; 2], T)>,
    start: f64,
    mut visit: impl FnMut(T, Sight),
) {
    for (place, of) in rays {
        visit(of, view.first(place, start));
    }
}

#[inline]
fn each<T>(view: &impl Sees, ways: impl Iterator<Item = (PlanePath, T)>, mut visit: impl FnMut(T, &Extremes)) {
    for (way, of) in ways {
        visit(of, &way.extremes(view));
    }
}
