//! Where the two points of a declared check lie, by what is printed: marks of tubes, their ends and bends.

use super::mark::end_word;
use crate::document::{Design, PointRef};
use crate::frame::{CutKind, Frame, fit::tip, locate};
use crate::geometry::DVec3;
use crate::part::{Part, PartEnd};

/// Points nearer than this to a centreline lie on it, mm.
const ON: f64 = 0.5;

/// A length along a tube under this is nothing to a tape, mm.
const NOTHING: f64 = 0.5;

/// Where a point is, in words that follow "from" or "to"; figures are followed by the word `mm`.
pub(super) fn place(design: &Design, frame: &Frame, parts: &[Part], point: &PointRef) -> Option<String> {
    let at = locate(design, point)?;
    let words = along(frame, parts, at).or_else(|| at_end(frame, parts, at)).or_else(|| at_bend(frame, at));
    Some(words.unwrap_or_else(|| in_space(frame, at)))
}

/// At the end of a member's centreline, which may lie beyond its cut.
fn at_end(frame: &Frame, parts: &[Part], at: DVec3) -> Option<String> {
    let ends = frame.members.iter().enumerate().flat_map(|(member, placed)| [0, 1].map(|end| (member, placed, end)));
    let mut here = ends.filter(|(_, placed, end)| tip(placed, *end).origin.distance(at) < 1e-3);
    let (member, placed, end) = here.next()?;
    let beyond = -parts[member].ends[end].on_axis;
    let (id, number, end) = (&placed.id, end, end_word(end));
    let made = &parts[member].ends[number];
    Some(if beyond > NOTHING {
        format!("the centreline of {id}, {beyond:.1} mm beyond {}", end_on_line(frame, made, number))
    } else if beyond < -NOTHING {
        format!("the centreline of {id}, {:.1} mm in from {}", -beyond, end_on_line(frame, made, number))
    } else {
        format!("the middle of the {end} end of {id}")
    })
}

/// Where a tube's centreline ends: in the middle of a face that is cut by a plane, and where it meets what the end is coped to.
fn end_on_line(frame: &Frame, made: &PartEnd, number: usize) -> String {
    let end = end_word(number);
    match (made.kind, made.met.as_slice()) {
        (CutKind::Square, _) => format!("the middle of the sawn face at its {end} end"),
        (CutKind::Mitre, _) => format!("the middle of the cut face at its {end} end"),
        (_, [one]) => format!("where that meets {} at its {end} end", frame.name(*one)),
        _ => format!("where that meets what its {end} end is fitted to"),
    }
}

/// On the centreline of a straight member, between its ends.
fn along(frame: &Frame, parts: &[Part], at: DVec3) -> Option<String> {
    let straight = frame.members.iter().enumerate().filter(|(_, placed)| placed.path.arcs.is_empty());
    let mut here = straight.filter_map(|(member, placed)| {
        let leg = placed.path.first();
        let station = (at - leg.start).dot(leg.direction);
        let off = (leg.start + leg.direction * station).distance(at);
        let from_end = station + parts[member].ends[0].on_axis;
        (off < ON && (ON..leg.length - ON).contains(&station)).then(|| {
            let end = end_on_line(frame, &parts[member].ends[0], 0);
            format!("the centreline of {}, {from_end:.1} mm from {end}", placed.id)
        })
    });
    here.next()
}

/// Where the straights before and after a bend would meet.
fn at_bend(frame: &Frame, at: DVec3) -> Option<String> {
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
    Some(format!("where the centrelines of {} before and after its bend {number} would meet", placed.id))
}

/// By its figures.
fn in_space(frame: &Frame, at: DVec3) -> String {
    let [x, y, z] = at.to_array().map(|mm| format!("{mm:.1} mm").replace("-0.0 mm", "0.0 mm"));
    if (at.z - frame.base).abs() < 1e-3 {
        return format!("the base plane at x {x}, y {y}");
    }
    format!("x {x}, y {y}, z {z} from the frame's origin")
}
