//! Points and centrelines in space, opposite hands included.

use super::{CutKind, Fit, Frame, Member, Sawing, Section, bar};
use crate::document::{self, Design, Finding, Findings, PointRef, other_hand};
use crate::geometry::{DVec3, Path, Profile, mirrored, square_to, turned};
use crate::words::findings::frame::FrameFault;

/// A tube that leans from the vertical by less than this takes its index line from the front: cosine of 15 degrees.
const UPRIGHT: f64 = 0.965_925_826_289_068_3;

/// Where a point reference lies, on the side it names.
pub(crate) fn locate(design: &Design, point: &PointRef) -> Option<DVec3> {
    match point {
        PointRef::Here(point) => Some(DVec3::from_array(point.0)),
        PointRef::Named(name) => locate_named(design, name.as_str()),
    }
}

/// Where the point of a name lies, on the side it names.
fn locate_named(design: &Design, name: &str) -> Option<DVec3> {
    if let Some(point) = design.points.get(name) {
        return Some(DVec3::from_array(point.0));
    }
    let partner = design.points.get(&other_hand(name)?)?;
    Some(mirrored(DVec3::from_array(partner.0)))
}

/// Places the members of a design; their ends are square until they are fitted.
pub(super) fn place(design: &Design, there: &[bool], findings: &mut Findings) -> Frame {
    let mut frame = Frame { sections: sections(design), ..Frame::default() };
    for (source, member) in design.members.iter().enumerate().filter(|(source, _)| there[*source]) {
        let Some(section) = frame.sections.iter().position(|section| section.name == member.section.as_str()) else {
            continue;
        };
        let Some(points) = corner_points(design, member) else {
            continue;
        };
        if member.mirror == Some(true) {
            refuse_odd_partner(design, member, source, findings);
        }
        let radius = member.radius.map_or(0.0, document::BendRadius::get);
        let mut error = |code: &str, rest: &str, fact: FrameFault| {
            let pointer = format!("/members/{source}/{rest}");
            findings.push(Finding::error(code, pointer, fact).about([member.id.as_str()]));
        };
        let path = match Path::rounded(&points, radius) {
            Ok(path) => path,
            Err(why) => {
                let rest = if member.path.is_some() { "path" } else { "to" };
                let fact = FrameFault::CannotBeMade { id: member.id.as_str(), why: &why.to_string() };
                error("no-centreline", rest, fact);
                continue;
            }
        };
        if !path.arcs.is_empty() {
            match frame.sections[section].profile {
                Profile::Rect { .. } => {
                    let fact = FrameFault::BentRectangular { id: member.id.as_str() };
                    error("rect-bent", "path", fact);
                    continue;
                }
                Profile::Round { outer, .. } if radius <= outer => {
                    let fact = FrameFault::BendRadius { radius };
                    error("bend-too-tight", "radius", fact);
                    continue;
                }
                Profile::Round { .. } => {}
            }
        }
        let id = member.id.as_str().to_owned();
        let opposite = if member.mirror == Some(true) { other_hand(&id) } else { None };
        let roll = member.roll.map_or(0.0, document::Angle::get).to_radians();
        let position = frame.members.len();
        let index = turned(index_line(path.first().direction), path.first().direction, roll);
        let mut first = build(&frame, member, id, source, section, path, index);
        let mirrored_path = opposite.and_then(|id| {
            let points: Vec<DVec3> = points.iter().copied().map(mirrored).collect();
            Some((id, Path::rounded(&points, radius).ok()?))
        });
        let second = mirrored_path.map(|(id, path)| build(&frame, member, id, source, section, path, mirrored(index)));
        first.opposite = second.as_ref().map(|_| position + 1);
        frame.members.push(first);
        if let Some(mut second) = second {
            second.opposite = Some(position);
            frame.members.push(second);
        }
    }
    frame
}

fn sections(design: &Design) -> Vec<Section> {
    let sections = design.sections.iter().filter_map(|(name, section)| {
        let material = design.materials.get(section.material.as_str())?;
        let profile = match (&section.round, &section.rect) {
            (Some(round), None) => Profile::Round { outer: round.od.get() / 2.0, wall: round.wall.get() },
            (None, Some(rect)) => Profile::Rect {
                half_width: rect.height.get() / 2.0,
                half_height: rect.width.get() / 2.0,
                corner: rect.corner.get(),
                wall: rect.wall.get(),
            },
            _ => return None,
        };
        let stock = design.stock.as_ref().map(|stock| {
            let of_this = stock.iter().filter(|stock| stock.section.as_str() == name);
            let mut lengths: Vec<f64> = of_this.flat_map(|stock| &stock.lengths).map(|length| length.get()).collect();
            lengths.sort_by(f64::total_cmp);
            lengths
        });
        let entries = || design.stock.iter().flatten().filter(|stock| stock.section.as_str() == name);
        let usual = Sawing::default();
        let sawing = Sawing {
            kerf: entries().find_map(|entry| entry.kerf).map_or(usual.kerf, document::SawCut::get),
            trim: entries().find_map(|entry| entry.trim).map_or(usual.trim, document::Length::get),
            min_remnant: entries().find_map(|entry| entry.min_remnant).map_or(usual.min_remnant, document::Length::get),
        };
        Some(Section {
            name: name.clone(),
            profile,
            material: material.name.as_str().to_owned(),
            density: material.density.get(),
            tensile: material.tensile.map(document::Strength::get),
            springback: section.springback.map(document::Springback::get),
            clamp: section.clamp.map(document::Length::get),
            stock,
            sawing,
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
            let fact =
                FrameFault::MirrorPoint { point: member.id.as_str(), partner: &partner, apart, given: name.as_str() };
            findings.push(
                Finding::error("mirror-point", format!("/members/{source}/mirror"), fact).about([member.id.as_str()]),
            );
        }
    }
}

fn build(
    frame: &Frame,
    member: &document::Member,
    id: String,
    source: usize,
    section: usize,
    path: Path,
    index: DVec3,
) -> Member {
    let square = Fit { kind: CutKind::Square, by_default: false, targets: Vec::new(), plane: None, plane_of: None };
    let left_long = |end: fn(&document::LeaveLong) -> Option<document::Length>| {
        member.leave_long.as_ref().and_then(end).map_or(0.0, document::Length::get)
    };
    Member {
        id,
        section,
        source,
        opposite: None,
        bar: bar(&path, frame.sections[section].profile, index, 0.0),
        index,
        path,
        gap: member.gap.map_or(0.0, document::Gap::get),
        leave_long: [left_long(|long| long.from), left_long(|long| long.to)],
        trim_before: [0, 0],
        ends: [square.clone(), square],
        holes: Vec::new(),
        part_number: member.part.as_ref().map(|part| part.as_str().to_owned()),
        roll_structure: member.roll_structure,
        note: member.note.as_ref().map_or_else(String::new, |note| note.as_str().to_owned()),
    }
}

/// Where clock angle 0 lies on a tube without roll: the side that faces up; on a tube within 15 degrees of the vertical the side
/// that faces forward.
fn index_line(direction: DVec3) -> DVec3 {
    let wanted = if direction.z.abs() > UPRIGHT { DVec3::X } else { DVec3::Z };
    square_to(direction, wanted).unwrap_or(DVec3::Y)
}
