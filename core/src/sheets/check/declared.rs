//! Where the two points of a declared check lie, by what is printed: marks of tubes, their ends and bends.

use super::place::{EndFace, Place};
use crate::frame::{CutKind, Frame, fit::tip};
use crate::geometry::DVec3;
use crate::part::{Part, PartEnd};
use crate::sheets::{End, rounded};

/// Points nearer than this to a centreline lie on it, mm.
const ON: f64 = 0.5;

/// A length along a tube under this is nothing to a tape, mm.
const NOTHING: f64 = 0.5;

/// Where a point is.
pub(super) fn place(frame: &Frame, parts: &[Part], at: DVec3) -> Place {
    let found = along(frame, parts, at).or_else(|| at_end(frame, parts, at)).or_else(|| at_bend(frame, at));
    found.unwrap_or_else(|| in_space(frame, at))
}

/// At the end of a member's centreline, which may lie beyond its cut.
fn at_end(frame: &Frame, parts: &[Part], at: DVec3) -> Option<Place> {
    let ends = frame.members.iter().enumerate().flat_map(|(member, placed)| [0, 1].map(|end| (member, placed, end)));
    let mut here = ends.filter(|(_, placed, end)| tip(placed, *end).origin.distance(at) < 1e-3);
    let (at, placed, number) = here.next()?;
    let made = &parts[at].ends[number];
    let beyond = -made.on_axis;
    let (member, end) = (placed.id.clone(), End::at(number));
    Some(if beyond > NOTHING {
        Place::Beyond { member, by: rounded(beyond), end, face: face(frame, made) }
    } else if beyond < -NOTHING {
        Place::InFrom { member, by: rounded(-beyond), end, face: face(frame, made) }
    } else {
        Place::EndMiddle { member, end }
    })
}

/// Where a tube's centreline ends: in the middle of a face that is cut by a plane, and where it meets what the end is coped to.
fn face(frame: &Frame, made: &PartEnd) -> EndFace {
    match (made.kind, made.met.as_slice()) {
        (CutKind::Square, _) => EndFace::Sawn,
        (CutKind::Mitre, _) => EndFace::Cut,
        (_, [one]) => EndFace::Part { met: frame.name(*one).to_owned() },
        _ => EndFace::Fitted,
    }
}

/// On the centreline of a straight member, between its ends.
fn along(frame: &Frame, parts: &[Part], at: DVec3) -> Option<Place> {
    let straight = frame.members.iter().enumerate().filter(|(_, placed)| placed.path.arcs.is_empty());
    let mut here = straight.filter_map(|(member, placed)| {
        let leg = placed.path.first();
        let station = (at - leg.start).dot(leg.direction);
        let off = (leg.start + leg.direction * station).distance(at);
        let from_end = station + parts[member].ends[0].on_axis;
        (off < ON && (ON..leg.length - ON).contains(&station)).then(|| Place::Along {
            member: placed.id.clone(),
            from: rounded(from_end),
            end: End::From,
            face: face(frame, &parts[member].ends[0]),
        })
    });
    here.next()
}

/// Where the straights before and after a bend would meet.
fn at_bend(frame: &Frame, at: DVec3) -> Option<Place> {
    let bends = frame.members.iter().flat_map(|placed| {
        let pairs = placed.path.legs.windows(2).zip(&placed.path.arcs).zip(1..);
        pairs.map(move |((pair, arc), number)| {
            let before = pair[0].start + pair[0].direction * pair[0].length;
            let corner = before + pair[0].direction * (arc.radius * libm::tan(arc.angle / 2.0));
            (placed, number, corner)
        })
    });
    let mut here = bends.filter(|(_, _, corner)| corner.distance(at) < 1e-3);
    let (placed, number, _) = here.next()?;
    Some(Place::BendCorner { member: placed.id.clone(), bend: number })
}

/// By its figures.
fn in_space(frame: &Frame, at: DVec3) -> Place {
    if (at.z - frame.base).abs() < 1e-3 {
        return Place::OnBase { x: rounded(at.x), y: rounded(at.y) };
    }
    Place::InSpace { at: at.to_array().map(rounded) }
}
