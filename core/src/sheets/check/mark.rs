//! Places that a tape finds on the tubes that they are named by.

use super::place::{Place, PlaceRound};
use crate::frame::{CutKind, Frame, Member, Target, fit::tip};
use crate::geometry::{DVec3, Leg, Profile};
use crate::part::{Part, PartEnd};
use crate::sheets::{End, Facing, rounded};

/// A place on a tube, and how it is found.
pub(super) struct Mark {
    /// Where it is in the frame.
    pub(super) at: DVec3,
    /// How it is found.
    pub(super) place: Place,
}

/// Tubes that meet at less than this have no clear place in line, sine of 15 degrees.
const CLEAR: f64 = 0.258_819_045_102_520_7;

/// A mark that turns from the middle of a flat side by more than this is none, cosine of 10 degrees.
const SQUARE: f64 = 0.984_807_753_012_208;

/// What may stand over a mark, mm.
const OVER: f64 = 0.01;

/// The end of one member as it lands on another.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Landing {
    /// The member that is fitted.
    pub(super) member: usize,
    /// Its end, 0 or 1.
    pub(super) end: usize,
    /// The member that it is fitted to.
    pub(super) host: usize,
}

impl Landing {
    /// The leg of the host on which it lands, and how far along that; `None` beside its straight legs.
    pub(super) fn leg(self, frame: &Frame) -> Option<(usize, f64)> {
        let (at, host) = (tip(&frame.members[self.member], self.end).origin, &frame.members[self.host]);
        let reach = 1.5 * frame.section(host).breadth();
        let legs = host.path.legs.iter().enumerate().filter_map(|(number, leg)| {
            let along = (at - leg.start).dot(leg.direction);
            let off = (leg.start + leg.direction * along.clamp(0.0, leg.length)).distance(at);
            (off < reach).then_some((number, along.clamp(0.0, leg.length), off))
        });
        legs.min_by(|a, b| a.2.total_cmp(&b.2)).map(|(number, along, _)| (number, along))
    }

    /// The place on the host in line with this member, on the side of the host that is square to both and looks `towards`; the
    /// outer corner where both are mitred to each other. `None` where no tape finds such a place.
    pub(super) fn mark(self, frame: &Frame, parts: &[Part], towards: DVec3) -> Option<Mark> {
        let (member, host) = (&frame.members[self.member], &frame.members[self.host]);
        let is_mitred = |one: &Member, to: usize| one.ends.iter().any(|fit| fit.plane_of == Some(Target::Member(to)));
        if is_mitred(host, self.member) && is_mitred(member, self.host) {
            return self.corner(frame, parts);
        }
        let (number, _) = self.leg(frame)?;
        let leg = &host.path.legs[number];
        let line = tip(member, self.end);
        let across = leg.direction.cross(line.direction);
        if across.length() < CLEAR {
            return None;
        }
        let out = across.normalize();
        let out = if out.dot(towards) < 0.0 { -out } else { out };
        // Where the host's centreline passes nearest to this member's.
        let apart = line.origin - leg.start;
        let along = apart.cross(line.direction).dot(across) / across.length_squared();
        if !is_on_steel(host, &parts[self.host], number, along) {
            return None;
        }
        let out = faced(frame, host, leg, out)?;
        let side = leg.direction.cross(host.index);
        let reach = frame.section(host).profile.extent([out.dot(host.index), out.dot(side)]);
        // This member must not stand over the mark.
        let offset = apart.dot(out);
        if offset + frame.section(member).profile.reach() > reach + OVER {
            return None;
        }
        let side = if host.path.arcs.is_empty() {
            let degrees = libm::atan2(out.dot(side), out.dot(host.index)).to_degrees().rem_euclid(360.0);
            let degrees = if degrees >= 359.5 { 0.0 } else { rounded(degrees) };
            PlaceRound::Clock { degrees, faces: Facing::of(out) }
        } else {
            on_bent(out, leg)
        };
        let is_here = |made: &PartEnd| made.met.contains(&Target::Member(self.host));
        let end = parts[self.member].ends.iter().all(is_here).then(|| End::at(self.end));
        Some(Mark {
            at: leg.start + leg.direction * along + out * reach,
            place: Place::InLine { on: host.id.clone(), side, with: member.id.clone(), end },
        })
    }

    /// The outer corner of two members that are mitred to each other.
    fn corner(self, frame: &Frame, parts: &[Part]) -> Option<Mark> {
        let (member, host) = (&frame.members[self.member], &frame.members[self.host]);
        let end = &parts[self.member].ends[self.end];
        if end.kind != CutKind::Mitre {
            return None;
        }
        let cut = end.cut.end();
        let [x, y] = cut.profile.spot(end.longest.u, 0.0).at;
        Some(Mark {
            at: cut.datum + cut.index * x + cut.side * y + cut.outwards * end.longest.s,
            place: Place::Corner { members: [member.id.clone(), host.id.clone()], end: End::at(self.end) },
        })
    }
}

/// Where round a leg of a bent tube a direction points: from the middle of the side that faces most nearly so, and how far round
/// from there towards which other side. No scribed line leads there: clock angles are not seen on a tube that stands.
fn on_bent(out: DVec3, leg: &Leg) -> PlaceRound {
    let axes = [DVec3::X, DVec3::Y, DVec3::Z].into_iter().flat_map(|axis| [axis, -axis]);
    let side_of = |axis: DVec3| axis.reject_from_normalized(leg.direction).try_normalize();
    let nearest = axes.clone().filter_map(side_of).max_by(|a, b| a.dot(out).total_cmp(&b.dot(out)));
    let Some(from) = nearest else { return PlaceRound::Side { faces: Facing::of(out) } };
    let degrees = from.dot(out).clamp(-1.0, 1.0).acos().to_degrees();
    let rest = out.reject_from_normalized(from);
    let towards = axes.filter(|axis| side_of(*axis).is_some_and(|side| side.dot(from).abs() < 0.9));
    let towards = towards.max_by(|a, b| a.dot(rest).total_cmp(&b.dot(rest)));
    match towards.filter(|_| degrees >= 0.5) {
        Some(towards) => {
            PlaceRound::Turned { degrees: rounded(degrees), faces: Facing::of(from), towards: Facing::of(towards) }
        }
        None => PlaceRound::Middle { faces: Facing::of(from) },
    }
}

/// The middle of an end that is cut by a plane and meets nothing.
pub(super) fn free_end(frame: &Frame, parts: &[Part], member: usize, end: usize) -> Option<Mark> {
    let (placed, made) = (&frame.members[member], &parts[member].ends[end]);
    let is_plane = matches!(made.kind, CutKind::Square | CutKind::Mitre);
    if !is_plane || !made.met.is_empty() || !placed.ends[end].targets.is_empty() {
        return None;
    }
    let tip = tip(placed, end);
    Some(Mark {
        at: tip.origin + tip.direction * made.on_axis,
        place: Place::EndMiddle { member: placed.id.clone(), end: End::at(end) },
    })
}

/// True where a place along a leg has its whole wall.
fn is_on_steel(member: &Member, part: &Part, leg: usize, along: f64) -> bool {
    let last = member.path.legs.len() - 1;
    let from = if leg == 0 { -part.ends[0].least } else { 0.0 };
    let to = member.path.legs[leg].length + if leg == last { part.ends[1].least } else { 0.0 };
    (from..=to).contains(&along)
}

/// The direction as it is on a round tube, that of the side's middle on a rectangular one.
fn faced(frame: &Frame, member: &Member, leg: &Leg, out: DVec3) -> Option<DVec3> {
    match frame.section(member).profile {
        Profile::Round { .. } => Some(out),
        Profile::Rect { .. } => {
            let side = leg.direction.cross(member.index);
            let sides = [member.index, side, -member.index, -side];
            sides.into_iter().find(|side| side.dot(out) > SQUARE)
        }
    }
}

/// A direction or its opposite, by a rule that a mirror image across y = 0 follows: away from the middle plane where it is
/// nearly square to that, else up, else forward.
pub(super) fn outwards(direction: DVec3, at: DVec3) -> DVec3 {
    const MOSTLY: f64 = 0.6;
    let way = match direction {
        _ if direction.y.abs() > MOSTLY => direction.y * if at.y < 0.0 { -1.0 } else { 1.0 },
        _ if direction.z.abs() > MOSTLY => direction.z,
        _ => direction.x,
    };
    if way < 0.0 { -direction } else { direction }
}
