//! Plates in space, on members, and their opposite hands.

use super::place::locate;
use super::{Frame, PlacedHole, PlacedPlate};
use crate::document::{self, Corner, Design, Finding, Findings, other_hand};
use crate::geometry::{DVec3, Edge, Flat, Outline, Plate, mirrored, square_to, turned};
use crate::words::findings::frame::FrameFault;
use std::sync::Arc;

/// Places every plate of the design.
pub(super) fn place(design: &Design, frame: &mut Frame, findings: &mut Findings) {
    for (name, plate) in design.plates.iter().flatten() {
        let Some(outline) = outline(name, plate, findings) else { continue };
        let Some(material) = design.materials.get(plate.material.as_str()) else { continue };
        let holes = holes(name, plate, &outline, findings);
        let outline = Arc::new(outline);
        let Some((solid, on)) = solid(design, frame, name, plate, &outline, findings) else { continue };
        let placed = PlacedPlate {
            id: name.clone(),
            source: name.clone(),
            opposite: None,
            holes,
            material: material.name.as_str().to_owned(),
            density: material.density.get(),
            on,
            before: before(frame, plate, on, false),
            part_number: plate.part.as_ref().map(|part| part.as_str().to_owned()),
            note: plate.note.as_ref().map_or_else(String::new, |note| note.as_str().to_owned()),
            plate: solid,
        };
        let position = frame.plates.len();
        match other_hand(name).filter(|_| plate.mirror == Some(true)) {
            Some(other) => {
                let on = on.map(|on| frame.members[on].opposite.unwrap_or(on));
                let second = PlacedPlate {
                    id: other,
                    opposite: Some(position),
                    before: before(frame, plate, on, true),
                    on,
                    ..opposite(&placed)
                };
                frame.plates.push(PlacedPlate { opposite: Some(position + 1), ..placed });
                frame.plates.push(second);
            }
            None => frame.plates.push(placed),
        }
    }
}

fn before(frame: &Frame, plate: &document::Plate, on: Option<usize>, is_opposite: bool) -> usize {
    let after = plate.after.as_ref().and_then(|after| {
        let partner = if is_opposite { other_hand(after.as_str()) } else { None };
        let position = |id: &str| frame.members.iter().position(|member| member.id == id);
        partner.and_then(|partner| position(&partner)).or_else(|| position(after.as_str()))
    });
    after.max(on).map_or(0, |position| position + 1)
}

/// The plate as its mirror image across y = 0: outline and holes turn over, so that its axes stay right-handed.
fn opposite(placed: &PlacedPlate) -> PlacedPlate {
    let flip = |[x, y]: Flat| [-x, y];
    PlacedPlate {
        plate: Plate {
            origin: mirrored(placed.plate.origin),
            along: -mirrored(placed.plate.along),
            across: mirrored(placed.plate.across),
            outline: Arc::new(placed.plate.outline.mirrored()),
            thickness: placed.plate.thickness,
        },
        holes: placed.holes.iter().map(|hole| PlacedHole { at: flip(hole.at), ..*hole }).collect(),
        ..placed.clone()
    }
}

fn solid(
    design: &Design,
    frame: &Frame,
    name: &str,
    plate: &document::Plate,
    outline: &Arc<Outline>,
    findings: &mut Findings,
) -> Option<(Plate, Option<usize>)> {
    let place = &plate.place;
    let (origin, up, along, on) = match (&place.at, place.normal, place.along, &place.on) {
        (Some(at), Some(normal), Some(along), _) => {
            let up = DVec3::from_array(normal.0).normalize();
            (locate(design, at)?, up, DVec3::from_array(along.0), None)
        }
        (_, _, _, Some(on)) => {
            let position = frame.members.iter().position(|member| member.id == on.as_str())?;
            let member = &frame.members[position];
            let (station, clock) = (place.station?.get(), place.clock?.get().to_radians());
            let mut error = |code: &str, fact: FrameFault| {
                let pointer = format!("/plates/{name}/place");
                findings.push(Finding::error(code, pointer, fact).about([name, member.id.as_str()]));
            };
            if !member.path.arcs.is_empty() {
                error("plate-on-bend", FrameFault::PlateOnBent { member: &member.id });
                return None;
            }
            if station > member.path.length() {
                let fact = FrameFault::StationBeyondEnd { station, member: &member.id, length: member.path.length() };
                error("beyond-member", fact);
                return None;
            }
            let leg = member.path.first();
            let up = turned(member.index, leg.direction, clock);
            let profile = frame.section(member).profile;
            let side = leg.direction.cross(member.index);
            let reach = profile.extent([up.dot(member.index), up.dot(side)]);
            (leg.start + leg.direction * station + up * reach, up, leg.direction, Some(position))
        }
        _ => return None,
    };
    let Some(along) = square_to(up, along) else {
        let fact = FrameFault::AlongNormal;
        findings.push(Finding::error("plate-direction", format!("/plates/{name}/place"), fact).about([name]));
        return None;
    };
    let solid = Plate {
        origin,
        along,
        across: up.cross(along),
        outline: Arc::clone(outline),
        thickness: plate.thickness.get(),
    };
    Some((solid, on))
}

/// The closed outline of a plate, running anticlockwise.
fn outline(name: &str, plate: &document::Plate, findings: &mut Findings) -> Option<Outline> {
    let corners = &plate.outline;
    let place = |corner: &Corner| match corner {
        Corner::Sharp(at) | Corner::Rounded { at, .. } | Corner::Arc { to: at, .. } => at.0,
    };
    let mut refuse = |index: Option<usize>, code: &str, fact: FrameFault| {
        let pointer = match index {
            Some(index) => format!("/plates/{name}/outline/{index}"),
            None => format!("/plates/{name}/outline"),
        };
        findings.push(Finding::error(code, pointer, fact).about([name]));
    };
    if corners.len() < 3 && !corners.iter().any(|corner| matches!(corner, Corner::Arc { .. })) {
        refuse(None, "outline-open", FrameFault::TooFewCorners);
        return None;
    }
    let count = corners.len();
    let mut edges = Vec::with_capacity(count * 2);
    // Where the edge to each corner ends and the edge from it starts, moved back by rounding.
    let mut ends: Vec<(Flat, Flat, Option<Edge>)> = Vec::with_capacity(count);
    for (index, corner) in corners.iter().enumerate() {
        let here = place(corner);
        let Corner::Rounded { round, .. } = corner else {
            ends.push((here, here, None));
            continue;
        };
        let (before, after) = (place(&corners[(index + count - 1) % count]), place(&corners[(index + 1) % count]));
        match rounded(before, here, after, round.get()) {
            Some(rounding) => ends.push(rounding),
            None => {
                let fact = FrameFault::CornerTooTight;
                refuse(Some(index), "round-too-large", fact);
                return None;
            }
        }
    }
    for (index, corner) in corners.iter().enumerate() {
        let from = ends[(index + count - 1) % count].1;
        let (to, _, rounding) = &ends[index];
        if libm::hypot(to[0] - from[0], to[1] - from[1]) > 1e-6 {
            edges.push(match corner {
                Corner::Arc { through, .. } => Edge::through(from, through.0, *to),
                _ => Edge::Line { from, to: *to },
            });
        }
        edges.extend(*rounding);
    }
    let outline = Outline { edges };
    if crosses_itself(&outline) {
        refuse(None, "outline-crosses", FrameFault::OutlineCrosses);
        return None;
    }
    if outline.area().abs() < 1.0 {
        refuse(None, "outline-empty", FrameFault::OutlineEmpty);
        return None;
    }
    if outline.area() > 0.0 {
        return Some(outline);
    }
    // Mirrored twice, the second time by hand, an outline runs the other way round at the same place.
    let back = outline.mirrored();
    let edges = back.edges.iter().map(|edge| match *edge {
        Edge::Line { from, to } => Edge::Line { from: [-from[0], from[1]], to: [-to[0], to[1]] },
        Edge::Arc { centre, radius, start, sweep } => {
            Edge::Arc { centre: [-centre[0], centre[1]], radius, start: core::f64::consts::PI - start, sweep: -sweep }
        }
    });
    Some(Outline { edges: edges.collect() })
}

/// Tangent points before and after a rounded corner, and the arc between them.
fn rounded(before: Flat, corner: Flat, after: Flat, radius: f64) -> Option<(Flat, Flat, Option<Edge>)> {
    let way = |to: Flat| {
        let (x, y) = (to[0] - corner[0], to[1] - corner[1]);
        let length = libm::hypot(x, y);
        (length > 1e-9).then(|| ([x / length, y / length], length))
    };
    let ((a, to_before), (b, to_after)) = (way(before)?, way(after)?);
    if radius == 0.0 {
        return Some((corner, corner, None));
    }
    let half = libm::acos((a[0] * b[0] + a[1] * b[1]).clamp(-1.0, 1.0)) / 2.0;
    let tangent = radius / libm::tan(half);
    if half < 1e-3 || tangent > to_before.min(to_after) + 1e-9 {
        return None;
    }
    let on = |way: Flat| [corner[0] + way[0] * tangent, corner[1] + way[1] * tangent];
    let bisector = [a[0] + b[0], a[1] + b[1]];
    let long = libm::hypot(bisector[0], bisector[1]);
    if long < 1e-9 {
        return Some((corner, corner, None));
    }
    let out = radius / libm::sin(half) - radius;
    let middle = [corner[0] + bisector[0] / long * out, corner[1] + bisector[1] / long * out];
    Some((on(a), on(b), Some(Edge::through(on(a), middle, on(b)))))
}

fn crosses_itself(outline: &Outline) -> bool {
    let points = outline.points(0.05);
    let count = points.len();
    let side = |a: Flat, b: Flat, c: Flat| (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]);
    let edge = |index: usize| (points[index], points[(index + 1) % count]);
    (0..count).any(|first| {
        (first + 2..count).filter(|&second| (second + 1) % count != first).any(|second| {
            let ((a, b), (c, d)) = (edge(first), edge(second));
            side(a, b, c) * side(a, b, d) < 0.0 && side(c, d, a) * side(c, d, b) < 0.0
        })
    })
}

fn holes(name: &str, plate: &document::Plate, outline: &Outline, findings: &mut Findings) -> Vec<PlacedHole> {
    let mut holes: Vec<PlacedHole> = Vec::new();
    for (index, hole) in plate.holes.iter().flatten().enumerate() {
        let placed = PlacedHole {
            at: hole.at.0,
            diameter: hole.diameter.get(),
            countersink: hole.countersink.map(document::HoleDiameter::get),
        };
        let pointer = format!("/plates/{name}/holes/{index}");
        let largest = placed.countersink.unwrap_or(0.0).max(placed.diameter);
        if outline.distance(placed.at) > -largest / 2.0 - 0.1 {
            let fact = FrameFault::HoleOverEdge;
            findings.push(Finding::error("hole-over-edge", pointer, fact).about([name]));
        } else if placed.countersink.is_some_and(|countersink| countersink <= placed.diameter) {
            let fact = FrameFault::CountersinkSmall;
            findings.push(Finding::error("countersink-small", pointer, fact).about([name]));
        } else {
            let touching = holes.iter().any(|other| {
                libm::hypot(other.at[0] - placed.at[0], other.at[1] - placed.at[1])
                    < (other.diameter + placed.diameter) / 2.0
            });
            if touching {
                let fact = FrameFault::HolesMeet;
                findings.push(Finding::error("holes-meet", pointer, fact).about([name]));
            } else {
                holes.push(placed);
            }
        }
    }
    holes
}
