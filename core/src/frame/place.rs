//! Points and centrelines in space, opposite hands included.

use super::{CutKind, Fit, Frame, Member, Tube};
use crate::document::{self, Design, Finding, Findings, PointRef, other_hand};
use crate::geometry::{DVec3, Path, square_to};

/// A tube that leans from the vertical by less than this takes its index line from the front: cosine of 15 degrees.
const UPRIGHT: f64 = 0.965_925_826_289_068_3;

/// The point mirrored across y = 0.
pub(super) fn mirrored(point: DVec3) -> DVec3 {
    DVec3::new(point.x, -point.y, point.z)
}

/// Where a point reference lies, on the side it names.
pub(super) fn locate(design: &Design, point: &PointRef) -> Option<DVec3> {
    let name = match point {
        PointRef::Here(point) => return Some(DVec3::from_array(point.0)),
        PointRef::Named(name) => name.as_str(),
    };
    if let Some(point) = design.points.get(name) {
        return Some(DVec3::from_array(point.0));
    }
    let partner = design.points.get(&other_hand(name)?)?;
    Some(mirrored(DVec3::from_array(partner.0)))
}

/// Places the members of a design; their ends are square until they are fitted.
pub(super) fn place(design: &Design, findings: &mut Findings) -> Frame {
    let mut frame = Frame { tubes: tubes(design), members: Vec::with_capacity(design.members.len() * 2) };
    for (source, member) in design.members.iter().enumerate() {
        let Some(tube) = frame.tubes.iter().position(|tube| tube.name == member.section.as_str()) else {
            continue;
        };
        let Some(points) = corner_points(design, member) else {
            continue;
        };
        if member.mirror == Some(true) {
            refuse_odd_partner(design, member, source, findings);
        }
        let radius = member.radius.map_or(0.0, document::BendRadius::get);
        let path = match Path::rounded(&points, radius) {
            Ok(path) => path,
            Err(error) => {
                let rest = if member.path.is_some() { "path" } else { "to" };
                let message = format!(
                    "`{}` cannot be made: {error}. Move the points apart or reduce the bend radius.",
                    member.id.as_str()
                );
                findings.push(
                    Finding::error("no-centreline", format!("/members/{source}/{rest}"), message)
                        .about([member.id.as_str()]),
                );
                continue;
            }
        };
        if radius > 0.0 && !path.arcs.is_empty() && radius <= frame.tubes[tube].od / 2.0 {
            let message =
                format!("A bend radius of {radius} is not over half the tube's diameter. Write a larger one.");
            findings.push(
                Finding::error("bend-too-tight", format!("/members/{source}/radius"), message)
                    .about([member.id.as_str()]),
            );
            continue;
        }
        let id = member.id.as_str().to_owned();
        let opposite = if member.mirror == Some(true) { other_hand(&id) } else { None };
        let first = build(&frame, member, id, source, tube, path);
        frame.members.push(first);
        if let Some(id) = opposite {
            let points: Vec<DVec3> = points.iter().copied().map(mirrored).collect();
            if let Ok(path) = Path::rounded(&points, radius) {
                let second = build(&frame, member, id, source, tube, path);
                frame.members.push(second);
            }
        }
    }
    frame
}

fn tubes(design: &Design) -> Vec<Tube> {
    let sections = design.sections.iter().filter_map(|(name, section)| {
        let material = design.materials.get(section.material.as_str())?;
        Some(Tube {
            name: name.clone(),
            od: section.round.od.get(),
            wall: section.round.wall.get(),
            material: material.name.as_str().to_owned(),
            density: material.density.get(),
            springback: section.springback.map(document::Springback::get),
            clamp: section.clamp.map(document::Length::get),
        })
    });
    sections.collect()
}

fn corner_points(design: &Design, member: &document::Member) -> Option<Vec<DVec3>> {
    match (&member.from, &member.to, &member.path) {
        (Some(from), Some(to), None) => Some(vec![locate(design, from)?, locate(design, to)?]),
        (None, None, Some(path)) if path.len() >= 2 => path.iter().map(|point| locate(design, point)).collect(),
        _ => None,
    }
}

/// A mirrored member whose point has a partner of its own that is no mirror image would not be where the document says.
fn refuse_odd_partner(design: &Design, member: &document::Member, source: usize, findings: &mut Findings) {
    let named = member.from.iter().chain(&member.to).chain(member.path.iter().flatten());
    for point in named {
        let PointRef::Named(name) = point else {
            continue;
        };
        let Some(partner) = other_hand(name.as_str()) else {
            continue;
        };
        let (Some(here), Some(there)) = (design.points.get(name.as_str()), design.points.get(&partner)) else {
            continue;
        };
        let apart = mirrored(DVec3::from_array(here.0)).distance(DVec3::from_array(there.0));
        if apart > 1e-6 {
            let message = format!(
                "`{}` is mirrored, but `{partner}` is given {apart:.3} mm away from the mirror image of `{}`. Leave `{partner}` out, or give both members.",
                member.id.as_str(),
                name.as_str()
            );
            findings.push(
                Finding::error("mirror-point", format!("/members/{source}/mirror"), message)
                    .about([member.id.as_str()]),
            );
        }
    }
}

fn build(frame: &Frame, member: &document::Member, id: String, source: usize, tube: usize, path: Path) -> Member {
    let bar = path.bar(frame.tubes[tube].od / 2.0, 0.0);
    let square = Fit { kind: CutKind::Square, by_default: false, targets: Vec::new(), plane: None };
    let left_long = |end: fn(&document::LeaveLong) -> Option<document::Length>| {
        member.leave_long.as_ref().and_then(end).map_or(0.0, document::Length::get)
    };
    Member {
        id,
        tube,
        source,
        index: index_line(path.first().direction),
        path,
        gap: member.gap.map_or(0.0, document::Gap::get),
        leave_long: [left_long(|long| long.from), left_long(|long| long.to)],
        ends: [square.clone(), square],
        note: member.note.as_ref().map_or_else(String::new, |note| note.as_str().to_owned()),
        bar,
    }
}

/// Where clock angle 0 lies on a tube: the side that faces up; on a tube within 15 degrees of the vertical the side that faces
/// forward.
fn index_line(direction: DVec3) -> DVec3 {
    let wanted = if direction.z.abs() > UPRIGHT { DVec3::X } else { DVec3::Z };
    square_to(direction, wanted).unwrap_or(DVec3::Y)
}
