//! Findings that compare members with stock, with what a bender can do, and with published figures for roll structures.
//!
//! The figures for roll structures are those of the FIA's Appendix J, Article 253-8, from memory. They are information: which
//! rules hold, and whether a structure meets them, is for the governing body and a competent person to say.

use super::Part;
use crate::document::{Finding, Findings, RollStructure};
use crate::frame::{Frame, Member, Section};
use crate::geometry::{DVec3, Profile};
use crate::words::findings::part::{PartFault, RollFault};

/// Centreline radius under which a round tube needs a mandrel and a trial, in outer diameters (common practice).
const TIGHT: f64 = 2.0;

pub(super) fn report(frame: &Frame, part: &Part, findings: &mut Findings) {
    let member = &frame.members[part.member];
    let section = frame.section(member);
    report_stock(member, section, part, findings);
    report_radius(member, section, part, findings);
    if let Some(role) = member.roll_structure {
        let size = section.size().to_string();
        for found in roll_structure(member, section, part, role, &size) {
            let pointer = format!("/members/{}", member.source);
            let fact = PartFault::RollStructure { id: &member.id, found };
            findings.push(Finding::information("roll-structure", pointer, fact).about([member.id.as_str()]));
        }
    }
}

fn report_stock(member: &Member, section: &Section, part: &Part, findings: &mut Findings) {
    let Some(stock) = &section.stock else { return };
    let blank = part.overall() + member.leave_long[0] + member.leave_long[1];
    let size = section.size().to_string();
    let fact = match stock.last() {
        None => PartFault::NoStock { id: &member.id, section: &size, missing: &section.name },
        Some(&longest) if blank > longest => {
            PartFault::TooLongForStock { id: &member.id, blank, section: &size, longest }
        }
        Some(_) => return,
    };
    let pointer = format!("/members/{}", member.source);
    findings.push(Finding::warning("not-in-stock", pointer, fact).about([member.id.as_str()]));
}

fn report_radius(member: &Member, section: &Section, part: &Part, findings: &mut Findings) {
    let od = section.breadth();
    let Some(bend) = part.bends.rows.iter().find(|bend| bend.radius < TIGHT * od) else { return };
    let fact = PartFault::TightBend { id: &member.id, radius: bend.radius, tight: TIGHT, od };
    let pointer = format!("/members/{}/radius", member.source);
    findings.push(Finding::warning("bend-radius", pointer, fact).about([member.id.as_str()]));
}

/// What is under the published figures.
fn roll_structure<'a>(
    member: &Member,
    section: &Section,
    part: &Part,
    role: RollStructure,
    size: &'a str,
) -> Vec<RollFault<'a>> {
    let mut found = Vec::new();
    let (sizes, too_small) = match role {
        RollStructure::MainHoop => ([(45.0, 2.5), (50.0, 2.0)], RollFault::MainTubeTooSmall { size }),
        _ => ([(38.0, 2.5), (40.0, 2.0)], RollFault::OtherTubeTooSmall { size }),
    };
    let is_large = match section.profile {
        Profile::Round { outer, wall } => sizes.iter().any(|&(od, least)| outer * 2.0 >= od && wall >= least),
        Profile::Rect { .. } => false,
    };
    if !is_large {
        found.push(too_small);
    }
    let od = section.breadth();
    for (number, bend) in part.bends.rows.iter().enumerate().filter(|(_, bend)| bend.radius < 3.0 * od) {
        found.push(RollFault::BendTooTight { bend: number + 1, radius: bend.radius, least: 3.0 * od });
    }
    if section.tensile.is_some_and(|tensile| tensile < 350.0) {
        found.push(RollFault::MaterialWeak);
    }
    if role == RollStructure::Stay {
        if !part.bends.rows.is_empty() {
            found.push(RollFault::StayBent);
        }
        let leg = member.path.first();
        let upright = libm::acos(leg.direction.dot(DVec3::Z).abs().min(1.0)).to_degrees();
        if upright < 30.0 {
            found.push(RollFault::BackstayUpright { upright });
        }
    }
    found
}

/// Feet of a roll structure, compared with the published plate: at least 3 mm thick, not thinner than the tube, 120 cm2.
pub(crate) fn report_feet(frame: &Frame, findings: &mut Findings) {
    for member in frame.members.iter().filter(|member| member.roll_structure.is_some()) {
        for end in &member.ends {
            for target in &end.targets {
                let crate::frame::Target::Plate(plate) = *target else { continue };
                let placed = &frame.plates[plate];
                let (area, thickness) = (placed.plate.outline.area() / 100.0, placed.plate.thickness);
                let wall = frame.section(member).profile.wall();
                if thickness >= 3.0 && thickness >= wall && area >= 120.0 {
                    continue;
                }
                let fact = PartFault::RollFoot { foot: &placed.id, member: &member.id, thickness, area };
                let pointer = format!("/plates/{}", placed.source);
                let about = [placed.id.as_str(), member.id.as_str()];
                findings.push(Finding::information("roll-structure", pointer, fact).about(about));
            }
        }
    }
}
