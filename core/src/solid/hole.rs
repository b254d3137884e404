//! Holes through the wall: a rim on the outer surface, a rim in the bore, and the hole's own wall between them.

use super::SolidError;
use super::brep::{Brep, Loop, Walked, reversed};
use super::curve::{self, Curve, TracedPoint};
use super::outline::{Station, Strips};
use super::skin::Opening;
use super::surface::Surface;
use crate::geometry::{DVec3, Path, Profile, turned};
use crate::part::{Cut, PartHole};
use core::f64::consts::{PI, TAU};

/// Steel that must be left between a hole and a cut or another hole, mm.
const LEAST_LEFT: f64 = 0.01;

/// Places looked at across a hole.
const ACROSS: u32 = 8;

/// A hole through one wall.
pub(super) struct Bored {
    leg: usize,
    u: f64,
    radius: f64,
    /// Half its width round the outer outline, mm.
    half_width: f64,
    /// Station of its centre along the whole centreline, mm.
    along: f64,
    /// Where its axis meets the outer surface.
    centre: DVec3,
    /// Out of the tube along its axis.
    outwards: DVec3,
    travel: DVec3,
    /// Round the tube in rising order of `u`.
    round: DVec3,
}

impl Bored {
    /// Every wall that the holes of a tube go through.
    pub(super) fn all(
        path: &Path,
        index: DVec3,
        profile: Profile,
        holes: &[PartHole],
    ) -> Result<Vec<Self>, SolidError> {
        let walls = holes.iter().flat_map(|hole| hole.places(profile).map(move |u| (hole, u)));
        walls.map(|(hole, u)| Self::of(path, index, profile, hole, u).ok_or(SolidError::HoleCut)).collect()
    }

    fn of(path: &Path, index: DVec3, profile: Profile, hole: &PartHole, u: f64) -> Option<Self> {
        let (mut index, mut start) = (index, 0.0);
        for (number, leg) in path.legs.iter().enumerate() {
            let rest = hole.station - start;
            if rest < 0.0 {
                return None;
            }
            if rest < leg.length || number + 1 == path.legs.len() {
                let station =
                    Station { axis: leg.start + leg.direction * rest, index, side: leg.direction.cross(index) };
                let outwards = station.normal(&profile, u);
                let radius = hole.diameter / 2.0;
                let half_width = match profile {
                    Profile::Round { outer, .. } => outer * libm::asin((radius / outer).min(1.0)),
                    Profile::Rect { .. } => radius,
                };
                return Some(Self {
                    leg: number,
                    u,
                    radius,
                    half_width,
                    along: hole.station,
                    centre: station.point(&profile, u, 0.0),
                    outwards,
                    travel: leg.direction,
                    round: leg.direction.cross(outwards),
                });
            }
            let arc = path.arcs.get(number)?;
            index = turned(index, arc.axis, arc.angle);
            start += leg.length + arc.length();
        }
        None
    }

    /// Places round the outline that it takes.
    pub(super) fn across(&self) -> impl Iterator<Item = f64> + '_ {
        (0..=ACROSS).map(|step| self.u + self.half_width * (2.0 * f64::from(step) / f64::from(ACROSS) - 1.0))
    }

    /// Refuses a hole that runs into a cut.
    pub(super) fn check(&self, path: &Path, cuts: [&Cut; 2]) -> Result<(), SolidError> {
        let wall = cuts[0].end().profile.wall();
        let reach = |cut: &Cut, u: f64| {
            [0.0, wall].into_iter().filter_map(|depth| Some(cut.contact(u, depth)?.s)).fold(f64::INFINITY, f64::min)
        };
        let is_clear = self.across().all(|u| {
            self.along - self.radius > LEAST_LEFT - reach(cuts[0], u)
                && self.along + self.radius < path.length() + reach(cuts[1], u) - LEAST_LEFT
        });
        if is_clear { Ok(()) } else { Err(SolidError::HoleCut) }
    }

    /// Refuses holes that run into each other.
    pub(super) fn check_apart(&self, other: &Self, perimeter: f64) -> Result<(), SolidError> {
        let gap = (self.u - other.u).rem_euclid(perimeter);
        let apart = libm::hypot(gap.min(perimeter - gap), self.along - other.along);
        if apart > self.half_width + other.half_width + LEAST_LEFT { Ok(()) } else { Err(SolidError::HoleCut) }
    }

    /// Adds the hole's wall, and answers the openings that it leaves in the outer surface and in the bore.
    pub(super) fn drill(
        &self,
        brep: &mut Brep,
        strips: &Strips,
        wall: f64,
        skins: [&dyn Fn(usize, usize) -> Surface; 2],
    ) -> Result<[Opening; 2], SolidError> {
        let unrolled = strips.unrolled(self.u);
        let strip = (0..strips.starts.len())
            .find(|&strip| {
                let (from, to) = strips.bounds(strip);
                from < unrolled - self.half_width && unrolled + self.half_width < to
            })
            .ok_or(SolidError::TooIntricate)?;
        let drill = Surface::Cylinder { point: self.centre, axis: self.outwards, radius: self.radius };
        let rims = [(skins[0](self.leg, strip), 0.0), (skins[1](self.leg, strip), wall)]
            .map(|(skin, depth)| self.rim(brep, &drill, &skin, depth));
        let rails = [0, 1].map(|side| {
            let (outer, bore) = (brep.ends(rims[0][side]).0, brep.ends(rims[1][side]).0);
            brep.edge(outer, bore, Curve::Line)
        });
        for half in 0..2 {
            let forwards = |edge: usize| Walked { edge, forwards: true };
            let walk: Loop =
                vec![rims[0][half].back(), forwards(rails[half]), rims[1][half], forwards(rails[1 - half]).back()];
            let near = self.at(PI * (0.5 + if half == 0 { 0.0 } else { 1.0 }));
            brep.face(drill, false, near, vec![walk]);
        }
        Ok([
            Opening { leg: self.leg, strip, bound: rims[0].to_vec() },
            Opening { leg: self.leg, strip, bound: reversed(&rims[1]) },
        ])
    }

    /// The point of the hole's wall, level with its centre, at an angle from the travel.
    fn at(&self, angle: f64) -> DVec3 {
        let (sin, cos) = libm::sincos(angle);
        self.centre + (self.travel * cos + self.round * sin) * self.radius
    }

    /// The edges in which the hole meets a skin, half a turn each.
    fn rim(&self, brep: &mut Brep, drill: &Surface, skin: &Surface, depth: f64) -> [Walked; 2] {
        const SEEDS: u32 = 12;
        let place = |angle: f64| {
            let level = self.at(angle) - self.outwards * depth;
            let drop = match *skin {
                Surface::Cylinder { point, axis, radius } => {
                    let from = level - point;
                    let height = from.dot(self.outwards);
                    let sideways = from.dot(axis.cross(self.outwards));
                    (radius * radius - sideways * sideways).max(0.0).sqrt() - height
                }
                Surface::Plane { .. } | Surface::Torus { .. } | Surface::Cone { .. } => 0.0,
            };
            TracedPoint { number: angle, at: level + self.outwards * drop }
        };
        let vertices = [0.0, PI].map(|angle| brep.vertex(place(angle).at));
        [0, 1].map(|half| {
            let (from, to) = if half == 0 { (0.0, PI) } else { (PI, TAU) };
            let seed = |step: u32| place(from + (to - from) * f64::from(step) / f64::from(SEEDS));
            let middle = |a: TracedPoint, b: TracedPoint, _| Some(place(0.5 * (a.number + b.number)));
            let curve = curve::along(skin, drill, (0..=SEEDS).map(seed).collect(), middle);
            Walked { edge: brep.edge(vertices[half], vertices[1 - half], curve), forwards: true }
        })
    }
}
