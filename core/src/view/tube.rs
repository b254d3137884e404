//! A tube as it is seen: its outline, its cut ends, its holes.

use super::chain::{Chain, Curve, CurvePoint, Hand};
use super::look::Look;
use crate::frame::Member;
use crate::geometry::{Arc, DVec3, HalfSpace, Leg, Piece, Profile, turned};
use crate::part::{CutLine, Part, PartEnd};

/// Angle between two places round a bend or round its tip, radians: chords lie within 0.02 mm of any bend of common radius.
const STEP: f64 = 0.02;

/// Narrowest step along a bend, radians.
const NARROWEST: f64 = 1e-5;

/// Cosine of the angle between the view and a side that is seen as a line.
const FACING: f64 = 0.05;

/// How far a place on an edge is led off the surface that it is fitted to, as a part of the way off its own tube.
const OFF_TARGET: f64 = 0.15;
/// The same off a plane.
const OFF_PLANE: f64 = 0.02;

/// A straight part of a tube in space.
#[derive(Debug, Clone, Copy)]
pub(super) struct TubeLeg {
    pub(super) leg: Leg,
    /// Directions of the section's x and y axes.
    pub(super) index: DVec3,
    pub(super) side: DVec3,
    /// The end of the part that lies at its start, and the one that lies at its end.
    pub(super) is_end: [bool; 2],
}

/// A tube among the bodies of a scene.
#[derive(Debug)]
pub(super) struct TubeBody<'a> {
    pub(super) member: &'a Member,
    pub(super) part: &'a Part,
    pub(super) profile: Profile,
    pub(super) legs: Vec<TubeLeg>,
}

impl<'a> TubeBody<'a> {
    pub(super) fn new(member: &'a Member, part: &'a Part) -> Self {
        let path = &member.path;
        let mut index = member.index;
        let last = path.legs.len() - 1;
        let legs = path.legs.iter().enumerate().map(|(number, leg)| {
            if let Some(arc) = number.checked_sub(1).map(|before| path.arcs[before]) {
                index = turned(index, arc.axis, arc.angle);
            }
            let side = leg.direction.cross(index);
            TubeLeg { leg: *leg, index, side, is_end: [number == 0, number == last] }
        });
        Self { member, part, profile: part.ends[0].cut.profile(), legs: legs.collect() }
    }

    /// Rims of the cut ends and holes: the same from every side.
    pub(super) fn edges(&self, body: usize) -> Vec<Chain> {
        let mut chains = Vec::new();
        for end in &self.part.ends {
            chains.extend(rim(body, end, &end.outer, 0.0));
            // What ends at a plane may be seen into.
            if end.cut.targets().iter().all(|solid| matches!(solid.pieces(), [Piece::HalfSpace(_)])) {
                let wall = self.profile.wall();
                chains.extend(rim(body, end, &CutLine::at_depth(&end.cut, wall), wall));
            }
        }
        chains.extend(self.holes(body));
        chains
    }

    /// The place at one end of the generator at `u` of a leg: at the cut, or where a bend begins.
    fn on_leg(&self, leg: &TubeLeg, u: f64, end: usize) -> CurvePoint {
        let beyond = if leg.is_end[end] {
            let made = &self.part.ends[end];
            made.cut.contact(u, 0.0).map_or(made.on_axis, |contact| contact.s)
        } else {
            0.0
        };
        let station = if end == 0 { -beyond } else { leg.leg.length + beyond };
        self.on_outside(leg, u, station)
    }

    fn holes(&self, body: usize) -> Vec<Chain> {
        let mut chains = Vec::new();
        for hole in &self.part.holes {
            let Some((leg, station)) = self.leg_at(hole.station) else { continue };
            for u in hole.places(self.profile) {
                let middle = self.on_outside(leg, u, station);
                let places = hole.outline(self.profile).into_iter().map(|[du, ds]| {
                    let CurvePoint { at, out } = self.on_outside(leg, u + du, station + ds);
                    CurvePoint { at, out: (out + 0.3 * (middle.at - at).normalize_or_zero()).normalize() }
                });
                chains.extend(Chain::new(body, Curve::Edge, places.collect()));
            }
        }
        chains
    }

    /// The place on the outside of a leg.
    pub(super) fn on_outside(&self, leg: &TubeLeg, u: f64, station: f64) -> CurvePoint {
        let spot = self.profile.spot(u, 0.0);
        let out = leg.index * spot.normal[0] + leg.side * spot.normal[1];
        let foot = leg.leg.start + leg.leg.direction * station;
        CurvePoint { at: foot + leg.index * spot.at[0] + leg.side * spot.at[1], out }
    }

    /// The leg on which a station along the centreline lies, and how far along it.
    pub(super) fn leg_at(&self, station: f64) -> Option<(&TubeLeg, f64)> {
        let mut rest = station;
        for (number, leg) in self.legs.iter().enumerate() {
            if rest <= leg.leg.length + 1e-9 {
                return (rest >= -1e-9).then_some((leg, rest));
            }
            rest -= leg.leg.length + self.member.path.arcs.get(number).map_or(0.0, Arc::length);
        }
        None
    }

    /// The corners of a rectangular tube between two sides that both face the viewer.
    pub(super) fn corners(&self, body: usize, look: &Look) -> Vec<Chain> {
        let (Profile::Rect { .. }, [leg]) = (self.profile, &self.legs[..]) else { return Vec::new() };
        let joints = self.profile.joints();
        let arcs = joints.chunks_exact(2).filter_map(|arc| {
            let faces = |u: f64| self.on_outside(leg, u, 0.0).out.dot(look.towards) > FACING;
            if !(faces(arc[0]) && faces(arc[1])) {
                return None;
            }
            let u = f64::midpoint(arc[0], arc[1]);
            Chain::new(body, Curve::Corner, vec![self.on_leg(leg, u, 0), self.on_leg(leg, u, 1)])
        });
        arcs.collect()
    }

    /// Both sides of the outline.
    ///
    /// Formula: a surface of constant radius about a centreline with tangent `t` is seen end-on along its surface where its
    /// normal is `t x d`, with the direction of view `d`, and opposite.
    pub(super) fn contours(&self, body: usize, look: &Look) -> Vec<Chain> {
        let sides = [(1.0, Hand::Left), (-1.0, Hand::Right)];
        let chain = |(side, hand)| Chain::new(body, Curve::Side(hand), self.contour(look, side));
        sides.into_iter().filter_map(chain).collect()
    }

    fn contour(&self, look: &Look, side: f64) -> Vec<CurvePoint> {
        let normal = |tangent: DVec3| {
            let across = tangent.cross(look.towards);
            (across.length() > 1e-9).then(|| across.normalize() * side)
        };
        let mut outline = Round { look, places: Vec::new(), last: None, radius: self.profile.reach() };
        for (number, leg) in self.legs.iter().enumerate() {
            if let Some(out) = normal(leg.leg.direction) {
                let clock = libm::atan2(out.dot(leg.side), out.dot(leg.index));
                let u = self.profile.place_at(clock);
                for end in [0, 1] {
                    let CurvePoint { at, .. } = self.on_leg(leg, u, end);
                    outline.put(at, out);
                }
            }
            let Some(arc) = self.member.path.arcs.get(number) else { continue };
            let at = |angle: f64| {
                let spoke = turned(arc.start, arc.axis, angle);
                (arc.centre + spoke * arc.radius, normal(arc.axis.cross(spoke)))
            };
            let count = (arc.angle / STEP).ceil().max(1.0);
            let mut part = 0.0;
            while part <= count {
                let step = if part > 0.0 { arc.angle / count } else { 0.0 };
                outline.bend(&at, arc.angle * part / count, step);
                part += 1.0;
            }
        }
        outline.places
    }
}

/// An outline in the making.
struct Round<'a> {
    look: &'a Look,
    places: Vec<CurvePoint>,
    /// Point of the surface and its normal.
    last: Option<(DVec3, DVec3)>,
    radius: f64,
}

impl Round<'_> {
    /// Goes on to the place of a bend at `angle`, which lies `step` after the one before.
    fn bend(&mut self, at: &impl Fn(f64) -> (DVec3, Option<DVec3>), angle: f64, step: f64) {
        let (middle, Some(out)) = at(angle) else { return };
        let sharp = self.last.is_some_and(|(_, before)| before.dot(out) < 0.98);
        if sharp && step > NARROWEST {
            self.bend(at, angle - step / 2.0, step / 2.0);
            self.bend(at, angle, step / 2.0);
        } else {
            self.put(middle + out * self.radius, out);
        }
    }

    /// Goes on to a place of the surface, round the tip when the tube turns back there.
    fn put(&mut self, at: DVec3, out: DVec3) {
        if let Some((from, before)) = self.last {
            let towards = self.look.towards;
            let mut turn = libm::atan2(before.cross(out).dot(towards), before.dot(out));
            if turn < -3.1 {
                turn += core::f64::consts::TAU;
            }
            // A leg that points at the viewer is seen at its nearer end.
            let ends = [from - before * self.radius, at - out * self.radius];
            let middle = if ends[0].dot(towards) > ends[1].dot(towards) { ends[0] } else { ends[1] };
            let steps = (turn.abs() / STEP).floor();
            let mut step = 1.0;
            while step < steps {
                let part = step / steps;
                let out = turned(before, towards, turn * part);
                self.places.push(CurvePoint { at: middle + out * self.radius, out });
                step += 1.0;
            }
        }
        self.places.push(CurvePoint { at, out });
        self.last = Some((at, out));
    }
}

/// The line of an end at a depth in its wall, as chains; its run is broken where the end misses what it is fitted to.
fn rim(body: usize, end: &PartEnd, line: &CutLine, depth: f64) -> Vec<Chain> {
    let cut = &end.cut;
    let inwards = if depth > 0.0 { -1.0 } else { 1.0 };
    let chains = line.runs.iter().filter_map(|run| {
        let places = run.iter().map(|point| {
            let spot = cut.profile().spot(point.u, depth);
            let tube = cut.end();
            let at = tube.beam().ray(spot.at).at(point.s);
            let own = (tube.index * spot.normal[0] + tube.side * spot.normal[1]) * inwards;
            let met = cut
                .first(spot.at)
                .map(|contact| &cut.targets()[usize::from(contact.target)].pieces()[usize::from(contact.piece)]);
            let (normal, off) = match met {
                None => return CurvePoint { at, out: own },
                Some(Piece::HalfSpace(HalfSpace { normal, .. })) => (*normal, OFF_PLANE),
                Some(piece) => (piece.normal(at), OFF_TARGET),
            };
            let within = (own - normal * own.dot(normal)).normalize_or(own);
            CurvePoint { at, out: (within + normal * off).normalize() }
        });
        Chain::new(body, Curve::Edge, places.collect())
    });
    chains.collect()
}
