//! What making a part finds wrong with it.

use super::{Part, seat};
use crate::document::{Finding, Findings};
use crate::frame::{Frame, fit::tip};

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
    let listed = names.join(", ");
    let about =
        || std::iter::once(member.id.as_str()).chain(names.iter().copied()).map(str::to_owned).collect::<Vec<_>>();
    if end.starts_inside {
        let message = format!(
            "End {end_number} of `{}` lies inside {listed} from the start. Make the member longer or move its end.",
            member.id
        );
        findings.push(Finding::error("starts-inside", pointer, message).about(about()));
        return;
    }
    if let Some(short) = short_of_targets(frame, part, number) {
        let message = format!(
            "End {end_number} of `{}` stops {short:.1} mm away from {listed}. Move the end into it, or name another member.",
            member.id
        );
        findings.push(Finding::error("cope-misses", pointer, message).about(about()));
        return;
    }
    if seat::report(frame, part, number, findings) {
        return;
    }
    let fit = &member.ends[number];
    let unmet = fit.targets.iter().filter(|target| !fit.by_default && !end.met.contains(target));
    let unmet: Vec<&str> = unmet.map(|&target| frame.name(target)).collect();
    if !unmet.is_empty() {
        let message = format!(
            "End {end_number} of `{}` never meets `{}`, though it is fitted to it. Name those that it meets.",
            member.id,
            unmet.join("` and `")
        );
        let about = std::iter::once(member.id.as_str()).chain(unmet);
        findings.push(Finding::warning("target-not-met", pointer.clone(), message).about(about));
    }
    let sharpest = end.sharpest.map(f64::to_degrees);
    if let Some(sharpest) = sharpest.filter(|&sharpest| sharpest < SHARP) {
        let message = format!(
            "At end {end_number} of `{}` the surfaces meet at {sharpest:.0} degrees: a root that sharp is hard to reach. Think of a gusset or a wider angle.",
            member.id
        );
        findings.push(Finding::information("sharp-joint", pointer, message).about(about()));
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
        let message = format!(
            "`{}` is shorter than its two cuts: somewhere round the tube {least:.1} mm are left. Move its ends apart.",
            member.id
        );
        findings.push(
            Finding::error("shorter-than-cuts", format!("/members/{}", member.source), message)
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
            let message = format!(
                "Between bends {number} and {} of `{}` there are {:.1} mm of straight, but the bender needs {clamp} to hold {}. Move the corners apart or reduce the radius.",
                number + 1,
                member.id,
                bend.feed,
                section.size()
            );
            findings.push(
                Finding::warning("straight-too-short", format!("/members/{}/path", member.source), message)
                    .about([member.id.as_str()]),
            );
        }
    }
}
