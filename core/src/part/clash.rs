//! Parts that share space with no cut between them.

use super::{Part, PartEnd, TubeEnd};
use crate::document::{Finding, Findings};
use crate::frame::{Frame, Member, Target, fit};
use crate::geometry::{Bounds, DVec3, Leg, Piece, Profile, Ray, TOUCH, Tree, turned};
use crate::words::findings::part::PartFault;
use crate::{Stop, Stopped};
use rayon::prelude::*;

/// Overlaps that are no deeper than this are left to the welder, mm.
const DEEP: f64 = 0.3;

/// Generators tried round a tube.
const ROUND: u32 = 24;

/// Step along a bend, radians.
const ALONG: f64 = 0.1;

/// Finds members that share volume with no cut between them, and plates with an edge inside a tube. Gives no errors.
pub(crate) fn found(frame: &Frame, parts: &[Part], stop: Stop) -> Result<Findings, Stopped> {
    let mut findings = Findings::default();
    let boxes: Vec<Bounds> = frame.members.iter().map(|member| fit::bounds(frame, member)).collect();
    let tree = Tree::new(&boxes);
    let deepest = |&(first, second): &(usize, usize)| {
        stop.check()?;
        if slide_together(frame, first, second) {
            return Ok(None);
        }
        let breadth = |member: usize| frame.section(&frame.members[member]).breadth();
        let (thin, thick) = if breadth(first) < breadth(second) { (first, second) } else { (second, first) };
        Ok(deepest(frame, parts, thin, thick))
    };
    let pairs = tree.pairs();
    let overlaps: Vec<Option<(f64, DVec3)>> = pairs.par_iter().map(deepest).collect::<Result<_, Stopped>>()?;
    for ((first, second), overlap) in pairs.into_iter().zip(overlaps) {
        if let Some((depth, at)) = overlap {
            let (a, b) = (&frame.members[first], &frame.members[second]);
            let fact =
                PartFault::Clash { a: &a.id, b: &b.id, depth, x: at.x, y: at.y, z: at.z, fitted: &b.id, onto: &a.id };
            let pointer = format!("/members/{}", b.source);
            findings.push(Finding::warning("clash", pointer, fact).about([a.id.as_str(), b.id.as_str()]));
        }
    }
    report_plates(frame, parts, &tree, stop, &mut findings)?;
    Ok(findings)
}

fn slide_together(frame: &Frame, first: usize, second: usize) -> bool {
    let slides = |member: usize, other: usize| {
        frame.members[member].ends.iter().any(|end| {
            matches!(end.kind, crate::frame::CutKind::Plug | crate::frame::CutKind::Sleeve)
                && end.targets.contains(&Target::Member(other))
        })
    };
    slides(first, second) || slides(second, first)
}

/// The deepest place of the finished `thin` part's surface inside the finished `thick` part, with its depth.
fn deepest(frame: &Frame, parts: &[Part], thin: usize, thick: usize) -> Option<(f64, DVec3)> {
    let other = &frame.members[thick];
    let mut worst: Option<(f64, DVec3)> = None;
    let mut look = |at: DVec3| {
        let depth = -other.bar.distance(at);
        if depth > DEEP && worst.is_none_or(|(most, _)| depth > most) && is_in_part(frame, parts, thick, at) {
            worst = Some((depth, at));
        }
    };
    for (number, leg) in frame.members[thin].path.legs.iter().enumerate() {
        let skin = Skin::of(frame, parts, thin, number);
        let line = Ray { origin: leg.start, direction: leg.direction };
        let is_near = |piece: &&Piece| piece.may_come_near(&line, skin.stretch(), skin.profile.reach() + TOUCH);
        let near: Vec<&Piece> = other.bar.pieces().iter().filter(is_near).collect();
        if near.is_empty() {
            continue;
        }
        for generator in skin.generators() {
            for piece in &near {
                piece.intervals(&generator.ray, |enter, leave| {
                    let (enter, leave) = (enter.max(0.0), leave.min(generator.length));
                    if leave - enter > DEEP {
                        let inside = leave - enter;
                        for part in [0.02, 0.25, 0.5, 0.75, 0.98] {
                            look(generator.ray.at(enter + part * inside));
                        }
                    }
                });
            }
        }
    }
    for at in on_bends(frame, thin, other) {
        look(at);
    }
    worst
}

/// The surface of one leg of a finished part.
struct Skin<'a> {
    leg: Leg,
    profile: Profile,
    /// Clock angle 0 on this leg.
    index: DVec3,
    /// The ends of the part that the leg runs out to.
    ends: [Option<&'a PartEnd>; 2],
}

/// A straight line on the surface of a finished part.
struct Generator {
    ray: Ray,
    length: f64,
}

impl<'a> Skin<'a> {
    fn of(frame: &Frame, parts: &'a [Part], position: usize, number: usize) -> Self {
        let (member, ends) = (&frame.members[position], &parts[position].ends);
        let arcs = &member.path.arcs[..number];
        Self {
            leg: member.path.legs[number],
            profile: frame.section(member).profile,
            index: arcs.iter().fold(member.index, |index, arc| turned(index, arc.axis, arc.angle)),
            ends: [(number == 0).then_some(&ends[0]), (number == member.path.arcs.len()).then_some(&ends[1])],
        }
    }

    /// From where to where it can reach along the leg, mm from its start.
    fn stretch(&self) -> [f64; 2] {
        let [before, after] = self.ends.map(|end| end.map_or(0.0, |end| end.longest.s.max(0.0)));
        [-before, self.leg.length + after]
    }

    fn generators(&self) -> impl Iterator<Item = Generator> + '_ {
        let place = |step: u32| self.profile.perimeter() * (f64::from(step) + 0.5) / f64::from(ROUND);
        let [before, after]: [Vec<f64>; 2] = self.ends.map(|end| match end {
            Some(end) => end.outer.along((0..ROUND).map(place)).map(|s| s.unwrap_or(0.0)).collect(),
            None => vec![0.0; ROUND as usize],
        });
        let side = self.leg.direction.cross(self.index);
        (0..ROUND).zip(before).zip(after).map(move |((step, before), after)| {
            let [x, y] = self.profile.spot(place(step), 0.0).at;
            let origin = self.leg.start + self.index * x + side * y - self.leg.direction * before;
            let ray = Ray { origin, direction: self.leg.direction };
            Generator { ray, length: self.leg.length + before + after }
        })
    }
}

/// Places on the surface of those of a member's bends that come near another.
fn on_bends(frame: &Frame, position: usize, other: &Member) -> Vec<DVec3> {
    let member = &frame.members[position];
    let Profile::Round { outer, .. } = frame.section(member).profile else { return Vec::new() };
    let mut places = Vec::new();
    let legs = &member.path.legs;
    for (arc, pair) in member.path.arcs.iter().zip(legs.windows(2)) {
        let ended = pair[0].start + pair[0].direction * pair[0].length;
        let chord = pair[1].start - ended;
        let line = Ray { origin: ended, direction: chord.normalize_or_zero() };
        let reach = outer + arc.radius * (1.0 - libm::cos(arc.angle / 2.0)) + TOUCH;
        if !other.bar.pieces().iter().any(|piece| piece.may_come_near(&line, [0.0, chord.length()], reach)) {
            continue;
        }
        let count = (arc.angle / ALONG).ceil().max(1.0);
        let mut part = 0.5;
        while part < count {
            let out = turned(arc.start, arc.axis, arc.angle * part / count);
            for step in 0..ROUND {
                let (sin, cos) = libm::sincos(core::f64::consts::TAU * f64::from(step) / f64::from(ROUND));
                places.push(arc.centre + out * (arc.radius + outer * cos) + arc.axis * (outer * sin));
            }
            part += 1.0;
        }
    }
    places
}

/// True when a point inside a member's bar also lies inside what its cuts leave of it.
pub(crate) fn is_in_part(frame: &Frame, parts: &[Part], position: usize, at: DVec3) -> bool {
    let member = &frame.members[position];
    parts[position].ends.iter().enumerate().all(|(number, end)| {
        let leg = if number == 0 { member.path.first() } else { member.path.last() };
        let TubeEnd { datum, outwards, index, side, profile } = *end.cut.end();
        let rest = at - datum;
        let (s, place) = (rest.dot(outwards), [rest.dot(index), rest.dot(side)]);
        // Only what lies along this end's own leg is bounded by its cut.
        let reach = profile.reach() + TOUCH;
        if s < -leg.length || place[0] * place[0] + place[1] * place[1] > reach * reach {
            return true;
        }
        s < end.cut.first(place).map_or(end.cut.limit(), |contact| contact.s) - DEEP
    })
}

fn report_plates(
    frame: &Frame,
    parts: &[Part],
    tree: &Tree,
    stop: Stop,
    findings: &mut Findings,
) -> Result<(), Stopped> {
    for (number, placed) in frame.plates.iter().enumerate() {
        stop.check()?;
        let plate = &placed.plate;
        let outline = plate.outline.points(0.5);
        let mut rim: Vec<DVec3> = Vec::with_capacity(outline.len() * 12);
        for (index, &from) in outline.iter().enumerate() {
            let to = outline[(index + 1) % outline.len()];
            let steps = (libm::hypot(to[0] - from[0], to[1] - from[1]) / 4.0).ceil().clamp(1.0, 200.0);
            let mut step = 0.0;
            while step < steps {
                let part = step / steps;
                let at = [from[0] + part * (to[0] - from[0]), from[1] + part * (to[1] - from[1])];
                rim.push(plate.point(at, plate.thickness / 2.0));
                step += 1.0;
            }
        }
        for other in tree.overlapping(&Bounds::around(rim.iter().copied())) {
            let member = &frame.members[other];
            let wall = frame.section(member).profile.wall();
            let is_deep = |&(depth, _): &(f64, DVec3)| depth > DEEP.max(wall / 2.0);
            let depths = rim.iter().map(|&at| (-member.bar.distance(at), at)).filter(is_deep);
            let depths = depths.filter(|&(_, at)| is_in_part(frame, parts, other, at)).map(|(depth, _)| depth);
            let Some(deepest) = depths.reduce(f64::max) else { continue };
            let fitted = member.ends.iter().any(|end| end.targets.contains(&Target::Plate(number)));
            if !fitted {
                let fact = PartFault::PlateInTube { plate: &placed.id, deepest, member: &member.id };
                let pointer = format!("/plates/{}", placed.source);
                let about = [placed.id.as_str(), member.id.as_str()];
                findings.push(Finding::warning("plate-in-tube", pointer, fact).about(about));
            }
        }
    }
    Ok(())
}
