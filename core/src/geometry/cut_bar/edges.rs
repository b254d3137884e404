//! Where what is left of a round bar's side may end: on planes.

use super::{Cope, CutBar};
use crate::geometry::cylinder::CylinderView;
use crate::geometry::ray::Height;
use crate::geometry::{Beam, Cylinder, HalfSpace, Piece, PlanePath};

/// Radii and axes that differ by less are equal and meet, mm.
const SAME: f64 = 1e-9;

/// Axes that lean against each other by less meet nowhere: sine.
const PARALLEL: f64 = 1e-3;

/// All planes on which what is left of a bar's side may end, as a beam sees them.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Edges(Vec<Crossed>);

/// A plane as a beam sees it.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Crossed {
    /// How far over the plane a ray begins.
    over: Height,
    /// How fast a ray rises over it.
    rate: f64,
}

impl Edges {
    /// `None` where an edge is not known to lie in planes.
    ///
    /// Two equal round bars whose axes meet cross in two planes, those that halve the angles of their axes (derivable: points of
    /// both lie as far along either axis from where these meet, with equal or opposite sign).
    pub(super) fn of(bar: &CutBar, beam: &Beam) -> Option<Self> {
        let own = bar.round()?;
        let mut planes: Vec<HalfSpace> = bar.planes.iter().flatten().copied().collect();
        for obstacle in bar.copes.iter().flatten().flat_map(|cope: &Cope| cope.obstacles.iter()) {
            match obstacle.piece() {
                Piece::Cylinder(other) => planes.extend(ends(other)),
                Piece::Cut(other) => planes.extend(other.planes.iter().flatten()),
                _ => return None,
            }
            let other = obstacle.piece().round()?;
            if !is_one_line(own, other) {
                planes.extend(halving(own, other)?);
            }
        }
        let crossed = planes.into_iter().map(|plane| Crossed {
            over: beam.height(plane.point, plane.normal),
            rate: beam.direction.dot(plane.normal),
        });
        Some(Self(crossed.collect()))
    }

    /// How far along a way rays meet these planes on the bar's side, mm, and where they begin and cease to meet the bar.
    pub(super) fn on(&self, way: &PlanePath, bar: &CylinderView) -> Vec<f64> {
        let mut places = bar.edges_on(way).to_vec();
        for plane in &self.0 {
            let over = [plane.over.at(way.place), plane.over.change(way.inwards)];
            places.extend(bar.meets_plane(way, over, plane.rate));
        }
        places.retain(|&depth| depth > 0.0 && depth < way.depth);
        places
    }
}

/// The planes of a bar's square ends.
fn ends(bar: &Cylinder) -> impl Iterator<Item = HalfSpace> {
    let ends = bar.length.map(|length| [0.0, length]).into_iter().flatten();
    ends.map(|along| HalfSpace { point: bar.point + bar.axis * along, normal: bar.axis })
}

/// True for bars of which one goes on as the other: a line along one meets the other at its end.
fn is_one_line(own: &Cylinder, other: &Cylinder) -> bool {
    let off = (other.point - own.point).reject_from_normalized(own.axis).length();
    own.axis.cross(other.axis).length() <= SAME && off <= SAME
}

/// The planes in which two equal bars cross.
fn halving(own: &Cylinder, other: &Cylinder) -> Option<[HalfSpace; 2]> {
    let square = own.axis.cross(other.axis);
    let sine = square.length();
    if sine < PARALLEL || (own.radius - other.radius).abs() > SAME {
        return None;
    }
    let between = other.point - own.point;
    let apart = between.dot(square) / sine;
    let point = own.point + own.axis * (between.cross(other.axis).dot(square) / (sine * sine));
    let is_met = apart.abs() <= SAME;
    is_met.then(|| [own.axis + other.axis, own.axis - other.axis].map(|n| HalfSpace { point, normal: n.normalize() }))
}
