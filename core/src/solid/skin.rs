//! The outer surface and the bore of a tube: along each leg and bend one face a strip.

use super::SolidError;
use super::brep::{Brep, Loop, Walked, reversed};
use super::curve::Curve;
use super::outline::{Station, Strips};
use super::rim::Rim;
use super::surface::Surface;
use crate::geometry::{Arc, DVec3, Path, Profile, turned};

/// Legs shorter than this are no faces of their own, mm.
const SHORTEST: f64 = 1e-6;

/// Straight that must be left at an end leg, mm.
const LEAST_LEFT: f64 = 0.01;

/// One surface of a tube: the outside, or the bore at the wall's depth.
#[derive(Debug, Clone, Copy)]
pub(super) struct Skin<'a> {
    pub(super) path: &'a Path,
    pub(super) profile: Profile,
    /// Clock angle 0 at the first leg.
    pub(super) index: DVec3,
    pub(super) strips: &'a Strips,
    pub(super) depth: f64,
    pub(super) is_bore: bool,
}

/// An opening that a hole leaves in a skin.
pub(super) struct Opening {
    pub(super) leg: usize,
    pub(super) strip: usize,
    /// Its bound, clockwise seen from outside the solid.
    pub(super) bound: Loop,
}

/// A straight or bent stretch between two rims.
#[derive(Clone, Copy)]
enum Stretch<'a> {
    Leg(usize, Station),
    Bend(Station, &'a Arc),
}

impl Skin<'_> {
    /// The section at the start of a leg.
    pub(super) fn station(&self, leg: usize) -> Station {
        let index = self.path.arcs[..leg].iter().fold(self.index, |index, arc| turned(index, arc.axis, arc.angle));
        let direction = self.path.legs[leg].direction;
        Station { axis: self.path.legs[leg].start, index, side: direction.cross(index) }
    }

    /// The surface of a strip along a leg.
    pub(super) fn surface(&self, leg: usize, strip: usize) -> Surface {
        self.straight(&self.station(leg), strip)
    }

    fn straight(&self, station: &Station, strip: usize) -> Surface {
        let axis = station.index.cross(station.side);
        match self.profile {
            Profile::Round { outer, .. } => Surface::Cylinder { point: station.axis, axis, radius: outer - self.depth },
            Profile::Rect { corner, .. } => {
                let middle = self.middle(strip);
                let (at, normal) =
                    (station.point(&self.profile, middle, self.depth), station.normal(&self.profile, middle));
                if self.profile.spot(middle, 0.0).side.is_multiple_of(2) {
                    Surface::Plane { point: at, normal }
                } else {
                    let radius = corner - self.depth;
                    Surface::Cylinder { point: at - normal * radius, axis, radius }
                }
            }
        }
    }

    fn middle(&self, strip: usize) -> f64 {
        let (from, to) = self.strips.bounds(strip);
        0.5 * (from + to)
    }

    /// Adds the faces between the rims of both ends.
    pub(super) fn build(&self, brep: &mut Brep, ends: [&Rim; 2], openings: &[Opening]) -> Result<(), SolidError> {
        let last = self.path.legs.len() - 1;
        let mut rim = ends[0].clone();
        for (leg, straight) in self.path.legs.iter().enumerate() {
            let station = self.station(leg);
            if leg == last {
                return self.stretch(brep, Stretch::Leg(leg, station), [&rim, ends[1]], openings);
            }
            let far = Station { axis: straight.start + straight.direction * straight.length, ..station };
            if leg == 0 || straight.length > SHORTEST {
                let next = self.section(brep, &far);
                self.stretch(brep, Stretch::Leg(leg, station), [&rim, &next], openings)?;
                rim = next;
            }
            let next = self.section(brep, &self.station(leg + 1));
            self.stretch(brep, Stretch::Bend(far, &self.path.arcs[leg]), [&rim, &next], openings)?;
            rim = next;
        }
        Ok(())
    }

    /// A square section as a rim.
    fn section(&self, brep: &mut Brep, station: &Station) -> Rim {
        let starts = &self.strips.starts;
        let mut rim = Rim::default();
        for &u in starts {
            let at = station.point(&self.profile, u, self.depth);
            rim.corners.push(brep.vertex(at));
        }
        for strip in 0..starts.len() {
            let (from, to) = (rim.corners[strip], rim.corners[(strip + 1) % starts.len()]);
            let axis = station.index.cross(station.side);
            let curve = match self.straight(station, strip) {
                Surface::Cylinder { point, radius, .. } => {
                    let centre = point + axis * (station.axis - point).dot(axis);
                    Curve::Conic { centre, axis, major: brep.at(from) - centre, radii: [radius, radius] }
                }
                Surface::Plane { .. } | Surface::Torus { .. } | Surface::Cone { .. } => Curve::Line,
            };
            rim.edges.push(vec![brep.edge(from, to, curve)]);
        }
        rim
    }

    fn stretch(
        &self,
        brep: &mut Brep,
        stretch: Stretch<'_>,
        [from, to]: [&Rim; 2],
        openings: &[Opening],
    ) -> Result<(), SolidError> {
        let count = self.strips.starts.len();
        let mut rails: Vec<usize> = Vec::with_capacity(count);
        for strip in 0..count {
            let (start, end) = (from.corners[strip], to.corners[strip]);
            if strip > 0 && start == from.corners[strip - 1] {
                rails.push(rails[strip - 1]);
                continue;
            }
            let curve = match stretch {
                Stretch::Leg(_, station) => {
                    let axis = station.index.cross(station.side);
                    if (brep.at(end) - brep.at(start)).dot(axis) < LEAST_LEFT {
                        return Err(SolidError::TooShort);
                    }
                    Curve::Line
                }
                Stretch::Bend(_, arc) => rail(arc, brep.at(start)),
            };
            rails.push(brep.edge(start, end, curve));
        }
        for strip in 0..count {
            let (left, right) = (rails[strip], rails[(strip + 1) % count]);
            if left == right {
                continue;
            }
            let forwards = |edge: usize| Walked { edge, forwards: true };
            let mut walk: Loop = from.edges[strip].iter().copied().map(forwards).collect();
            walk.push(forwards(right));
            walk.extend(to.edges[strip].iter().rev().map(|&edge| forwards(edge).back()));
            walk.push(forwards(left).back());
            if self.is_bore {
                walk = reversed(&walk);
            }
            let (surface, near) = match stretch {
                Stretch::Leg(_, station) => {
                    (self.straight(&station, strip), station.point(&self.profile, self.middle(strip), self.depth))
                }
                Stretch::Bend(far, arc) => {
                    let Profile::Round { outer, .. } = self.profile else { return Err(SolidError::BentRectangle) };
                    let surface = Surface::Torus {
                        centre: arc.centre,
                        axis: arc.axis,
                        bend_radius: arc.radius,
                        radius: outer - self.depth,
                    };
                    let start = far.point(&self.profile, self.middle(strip), self.depth) - arc.centre;
                    (surface, arc.centre + turned(start, arc.axis, arc.angle / 2.0))
                }
            };
            let mut loops = vec![walk];
            if let Stretch::Leg(leg, _) = stretch {
                let here = openings.iter().filter(|opening| opening.leg == leg && opening.strip == strip);
                loops.extend(here.map(|opening| opening.bound.clone()));
            }
            brep.face(surface, !self.is_bore, near, loops);
        }
        Ok(())
    }
}

/// The line along a bend through a point at its start.
fn rail(arc: &Arc, start: DVec3) -> Curve {
    let from_centre = start - arc.centre;
    let height = from_centre.dot(arc.axis);
    let across = from_centre - arc.axis * height;
    let radius = across.length();
    Curve::Conic { centre: arc.centre + arc.axis * height, axis: arc.axis, major: across, radii: [radius, radius] }
}
