//! Ends inside or over another tube: plugs and sleeves, with their clearance.

use super::{Context, tip};
use crate::document::{Finding, Findings, Plug, Sleeve};
use crate::frame::{CutKind, Fit, Member, Target};
use crate::geometry::{DVec3, Profile, Ray};
use crate::words::findings::frame::FrameFault;

/// How far the end of a tube lies within or over another that it slides into or over, mm.
pub(crate) fn overlap(member: &Member, end: usize, other: &Member) -> f64 {
    let there = came_through(member, end, other);
    (there.origin - tip(member, end).origin).dot(there.direction)
}

/// The end of the other tube that this one comes through: the one that it travels against.
fn came_through(member: &Member, end: usize, other: &Member) -> Ray {
    let number = if tip(member, end).direction.dot(tip(other, 0).direction) < 0.0 { 0 } else { 1 };
    tip(other, number)
}

/// Clearance across both walls over which a sliding joint is loose, mm (common practice).
const LOOSE: f64 = 1.0;

/// Furthest that both axes may lie apart along the joint, mm.
const APART: f64 = 0.1;

impl Context<'_> {
    pub(super) fn plug(&self, plug: &Plug, findings: &mut Findings) -> Fit {
        self.sliding(CutKind::Plug, plug.into.as_str(), plug.depth.get(), findings)
    }

    pub(super) fn sleeve(&self, sleeve: &Sleeve, findings: &mut Findings) -> Fit {
        self.sliding(CutKind::Sleeve, sleeve.over.as_str(), sleeve.depth.get(), findings)
    }

    fn sliding(&self, kind: CutKind, name: &str, depth: f64, findings: &mut Findings) -> Fit {
        let Some(target) = self.there(name, findings) else { return self.square() };
        let Target::Member(other) = target else { return self.square() };
        let (member, other) = (self.member(), &self.frame.members[other]);
        let mut report = |is_error: bool, code: &str, fact: FrameFault| {
            let make = if is_error { Finding::error } else { Finding::warning };
            let about = [member.id.as_str(), other.id.as_str()];
            findings.push(make(code, self.pointer(), fact).about(about));
        };
        let here = tip(member, self.end);
        let there = came_through(member, self.end, other);
        let sits = overlap(member, self.end, other);
        let beside = (here.origin - there.origin).reject_from_normalized(there.direction).length();
        let apart = beside.max(here.direction.cross(there.direction).length() * depth);
        if apart > APART {
            let fact = FrameFault::NotInLine { id: &member.id, other: &other.id, apart };
            report(true, "slide-not-in-line", fact);
        } else if sits < depth - 1e-6 {
            let fact = FrameFault::TooShortInside { end: self.number(), id: &member.id, other: &other.id, sits, depth };
            report(true, "slide-too-short", fact);
        }
        let (inner, outer) = match kind {
            CutKind::Plug => (member, other),
            _ => (other, member),
        };
        match clearance(self.frame.section(inner).profile, self.frame.section(outer).profile) {
            None => {
                let fact = FrameFault::NoCommonShape {
                    one: &self.frame.section(inner).size().to_string(),
                    other: &self.frame.section(outer).size().to_string(),
                };
                report(true, "slide-shape", fact);
            }
            Some(clearance) if clearance < 0.0 => {
                let fact = FrameFault::TooLargeInside { id: &inner.id, other: &outer.id, by: -clearance };
                report(true, "slide-too-tight", fact);
            }
            Some(clearance) if clearance > LOOSE => {
                let fact = FrameFault::PlayInside { id: &inner.id, other: &outer.id, clearance, loose: LOOSE };
                report(false, "slide-loose", fact);
            }
            Some(_) => {}
        }
        Fit { targets: vec![target], kind, ..self.square() }
    }
}

/// Play across between the outside of one tube and the bore of another, mm: the least over both directions.
fn clearance(inner: Profile, outer: Profile) -> Option<f64> {
    match (inner, outer) {
        (Profile::Round { outer: radius, .. }, Profile::Round { outer: around, wall }) => {
            Some(2.0 * (around - wall - radius))
        }
        (
            Profile::Rect { half_width, half_height, corner, .. },
            Profile::Rect { half_width: w, half_height: h, corner: around, wall },
        ) => {
            let flats = 2.0 * (w - wall - half_width).min(h - wall - half_height);
            // Across the corners: the inner tube's corner arc must lie inside the bore's corner arc.
            let bore = (around - wall).max(0.0);
            let centre =
                DVec3::new((w - wall - bore) - (half_width - corner), (h - wall - bore) - (half_height - corner), 0.0);
            let across = if centre.x < 0.0 && centre.y < 0.0 {
                bore - centre.length() - corner
            } else if bore > corner && centre.x.max(centre.y) <= 0.0 {
                bore - corner
            } else {
                f64::INFINITY
            };
            Some(flats.min(2.0 * across))
        }
        _ => None,
    }
}
