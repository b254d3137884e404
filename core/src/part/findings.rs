//! What making a part finds wrong with it.

use super::{Part, seat};
use crate::document::{Finding, Findings};
use crate::frame::{Frame, fit::tip};
use crate::words::findings::part::PartFault;
use crate::words::findings::values::And;

/// Under this dihedral angle a root can hardly be reached with a torch, degrees (judgement).
const SHARP: f64 = 30.0;

/// Places round the tube at which the cuts of both ends are compared.
const COMPARED: u32 = 72;

pub(super) fn report(frame: &Frame, part: &Part, findings: &mut Findings) {
    for end in 0..2 {
        report_end(frame, part, end, findings);
    }
    report_crossing(frame, part, findings);
    report_bends(frame, part, findings);
}

fn report_end(frame: &Frame, part: &Part, number: usize, findings: &mut Findings) {
    let member = &frame.members[part.member];
    let end = &part.ends[number];
    if member.ends[number].kind.is_square() {
        return;
    }
    let end_number = number + 1;
    let pointer = format!("/members/{}", member.source);
    let names: Vec<&str> = member.ends[number].targets.iter().map(|&target| frame.name(target)).collect();
    let targets = And(&names);
    let about =
        || std::iter::once(member.id.as_str()).chain(names.iter().copied()).map(str::to_owned).collect::<Vec<_>>();
    if end.starts_inside {
        let fact = PartFault::StartsInside { end_number, id: &member.id, targets };
        findings.push(Finding::error("starts-inside", pointer, fact).about(about()));
        return;
    }
    if let Some(short) = short_of_targets(frame, part, number) {
        let fact = PartFault::StopsShort { end_number, id: &member.id, short, targets };
        findings.push(Finding::error("cope-misses", pointer, fact).about(about()));
        return;
    }
    if seat::report(frame, part, number, findings) {
        return;
    }
    let fit = &member.ends[number];
    let unmet = fit.targets.iter().filter(|target| !fit.by_default && !end.met.contains(target));
    let unmet: Vec<&str> = unmet.map(|&target| frame.name(target)).collect();
    if !unmet.is_empty() {
        let fact = PartFault::NeverMeets { end_number, id: &member.id, targets: And(&unmet) };
        let about = std::iter::once(member.id.as_str()).chain(unmet.iter().copied());
        findings.push(Finding::warning("target-not-met", pointer.clone(), fact).about(about));
    }
    let sharpest = end.sharpest.map(f64::to_degrees);
    if let Some(sharpest) = sharpest.filter(|&sharpest| sharpest < SHARP) {
        let fact = PartFault::SharpJoint { end_number, id: &member.id, sharpest };
        findings.push(Finding::information("sharp-joint", pointer, fact).about(about()));
    }
}

/// How far an end named to be coped lies from everything that it is fitted to, mm; `None` where it lies within the tube's own reach, or where
/// lines on from it meet nothing at all.
fn short_of_targets(frame: &Frame, part: &Part, number: usize) -> Option<f64> {
    let member = &frame.members[part.member];
    let fit = &member.ends[number];
    if fit.by_default || fit.targets.is_empty() || part.ends[number].outer.runs.is_empty() {
        return None;
    }
    let end_point = tip(member, number).origin;
    let away =
        fit.targets.iter().map(|&target| frame.solid(target, 0.0).distance(end_point)).fold(f64::INFINITY, f64::min);
    (away > frame.section(member).profile.reach()).then_some(away)
}

/// A member whose cuts eat each other up somewhere round the tube is no tube.
fn report_crossing(frame: &Frame, part: &Part, findings: &mut Findings) {
    if part.short() > 0.0 {
        return;
    }
    let member = &frame.members[part.member];
    let perimeter = part.ends[0].cut.profile().perimeter();
    let least = (0..COMPARED).filter_map(|step| {
        let u = perimeter * f64::from(step) / f64::from(COMPARED);
        Some(part.length + part.ends[0].cut.contact(u, 0.0)?.s + part.ends[1].cut.contact(u, 0.0)?.s)
    });
    let least = least.fold(f64::INFINITY, f64::min);
    if least <= 0.0 {
        let fact = PartFault::ShorterThanCuts { id: &member.id, least };
        findings.push(
            Finding::error("shorter-than-cuts", format!("/members/{}", member.source), fact)
                .about([member.id.as_str()]),
        );
    }
}

fn report_bends(frame: &Frame, part: &Part, findings: &mut Findings) {
    let member = &frame.members[part.member];
    let section = frame.section(member);
    let Some(clamp) = section.clamp else { return };
    for (number, bend) in part.bends.rows.iter().enumerate().skip(1) {
        if bend.feed < clamp {
            let fact = PartFault::StraightTooShort {
                number,
                next: number + 1,
                id: &member.id,
                straight: bend.feed,
                clamp,
                size: &section.size().to_string(),
            };
            findings.push(
                Finding::warning("straight-too-short", format!("/members/{}/path", member.source), fact)
                    .about([member.id.as_str()]),
            );
        }
    }
}
