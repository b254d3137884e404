//! Parts that share space with no cut between them.

use super::Part;
use crate::document::{Finding, Findings};
use crate::frame::{Frame, Target, fit};
use crate::geometry::{Bounds, DVec3, Piece, Profile, Ray, Tree, turned};
use rayon::prelude::*;

/// Overlaps that are no deeper than this are left to the welder, mm.
const DEEP: f64 = 0.3;

/// Generators tried round a tube.
const ROUND: u32 = 24;

/// Step along a bend, radians.
const ALONG: f64 = 0.1;

/// Reports members that share volume with no cut between them, and plates with an edge inside a tube.
pub(crate) fn report(frame: &Frame, parts: &[Part], findings: &mut Findings) {
    let boxes: Vec<Bounds> = frame.members.iter().map(|member| fit::bounds(frame, member)).collect();
    let tree = Tree::new(&boxes);
    let deepest = |&(first, second): &(usize, usize)| {
        if slide_together(frame, first, second) {
            return None;
        }
        let breadth = |member: usize| frame.section(&frame.members[member]).breadth();
        let (thin, thick) = if breadth(first) < breadth(second) { (first, second) } else { (second, first) };
        deepest(frame, parts, thin, thick)
    };
    let pairs = tree.pairs();
    let overlaps: Vec<Option<(f64, DVec3)>> = pairs.par_iter().map(deepest).collect();
    for ((first, second), overlap) in pairs.into_iter().zip(overlaps) {
        if let Some((depth, at)) = overlap {
            let (a, b) = (&frame.members[first], &frame.members[second]);
            let message = format!(
                "`{}` and `{}` share space {depth:.1} mm deep at ({:.0}, {:.0}, {:.0}) with no cut between them. Fit `{}` to `{}` there, or move one of them.",
                a.id, b.id, at.x, at.y, at.z, b.id, a.id
            );
            let pointer = format!("/members/{}", b.source);
            findings.push(Finding::warning("clash", pointer, message).about([a.id.as_str(), b.id.as_str()]));
        }
    }
    report_plates(frame, parts, &tree, findings);
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
    let near: Vec<&Piece> = other.bar.pieces().iter().filter(|piece| may_meet(frame, thin, piece)).collect();
    for generator in generators(frame, parts, thin) {
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
    for at in on_bends(frame, thin) {
        look(at);
    }
    worst
}

/// False when none of a member's legs comes near a piece.
fn may_meet(frame: &Frame, position: usize, piece: &Piece) -> bool {
    let member = &frame.members[position];
    let reach = frame.section(member).profile.reach();
    member.path.legs.iter().any(|leg| match piece {
        Piece::Cylinder(bar) => {
            let across = leg.direction.cross(bar.axis);
            let (length, apart) = (across.length(), (leg.start - bar.point).dot(across).abs());
            apart <= (bar.radius + reach) * length + 1e-6
        }
        _ => piece.ball().is_none_or(|(centre, radius)| {
            let along = (centre - leg.start).dot(leg.direction).clamp(-radius, leg.length + radius);
            (leg.start + leg.direction * along).distance(centre) <= radius + reach
        }),
    })
}

/// A straight line on the surface of a finished part.
struct Generator {
    ray: Ray,
    length: f64,
}

fn generators<'a>(frame: &'a Frame, parts: &'a [Part], position: usize) -> impl Iterator<Item = Generator> + 'a {
    let (member, part) = (&frame.members[position], &parts[position]);
    let profile = frame.section(member).profile;
    let last = member.path.legs.len() - 1;
    let place = move |step: u32| profile.perimeter() * (f64::from(step) + 0.5) / f64::from(ROUND);
    let grown = |end: usize| part.ends[end].outer.along((0..ROUND).map(place)).map(|s| s.unwrap_or(0.0));
    (0..ROUND).zip(grown(0).zip(grown(1))).flat_map(move |(step, grown)| {
        let [x, y] = profile.spot(place(step), 0.0).at;
        let mut index = member.index;
        member.path.legs.iter().enumerate().map(move |(number, leg)| {
            if let Some(arc) = number.checked_sub(1).map(|before| member.path.arcs[before]) {
                index = turned(index, arc.axis, arc.angle);
            }
            let before = if number == 0 { grown.0 } else { 0.0 };
            let after = if number == last { grown.1 } else { 0.0 };
            let side = leg.direction.cross(index);
            let origin = leg.start + index * x + side * y - leg.direction * before;
            Generator { ray: Ray { origin, direction: leg.direction }, length: leg.length + before + after }
        })
    })
}

/// Places on the surface of a member's bends.
fn on_bends(frame: &Frame, position: usize) -> Vec<DVec3> {
    let member = &frame.members[position];
    let Profile::Round { outer, .. } = frame.section(member).profile else { return Vec::new() };
    let mut places = Vec::new();
    for arc in &member.path.arcs {
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
fn is_in_part(frame: &Frame, parts: &[Part], position: usize, at: DVec3) -> bool {
    let member = &frame.members[position];
    parts[position].ends.iter().enumerate().all(|(number, end)| {
        let leg = if number == 0 { member.path.first() } else { member.path.last() };
        let rest = at - end.cut.end().datum;
        let s = rest.dot(end.cut.end().outwards);
        // Only what lies along this end's own leg is bounded by its cut.
        if s < -leg.length
            || rest.reject_from_normalized(end.cut.end().outwards).length() > 2.0 * end.cut.profile().reach()
        {
            return true;
        }
        let ray = Ray { origin: at - end.cut.end().outwards * s, direction: end.cut.end().outwards };
        let first = end.cut.targets().iter().filter_map(|target| target.first(&ray, end.cut.start())).map(|hit| hit.s);
        s < first.fold(end.cut.limit(), f64::min) - DEEP
    })
}

fn report_plates(frame: &Frame, parts: &[Part], tree: &Tree, findings: &mut Findings) {
    for (number, placed) in frame.plates.iter().enumerate() {
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
            let deepest = rim
                .iter()
                .filter(|&&at| is_in_part(frame, parts, other, at))
                .map(|&at| -member.bar.distance(at))
                .fold(0.0, f64::max);
            let fitted = member.ends.iter().any(|end| end.targets.contains(&Target::Plate(number)));
            if deepest > DEEP.max(wall / 2.0) && !fitted {
                let message = format!(
                    "An edge of plate `{}` lies {deepest:.1} mm inside the tube `{}`. Cut the plate back to the tube's surface.",
                    placed.id, member.id
                );
                let pointer = format!("/plates/{}", placed.source);
                let about = [placed.id.as_str(), member.id.as_str()];
                findings.push(Finding::warning("plate-in-tube", pointer, message).about(about));
            }
        }
    }
}
