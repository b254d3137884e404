//! What each end is fitted to: as the document says, or the earlier members that it runs into.

use super::place::{locate, mirrored};
use super::{CutKind, Fit, Frame, Member};
use crate::document::{self, Design, EndCut, Finding, Findings, Mitre, other_hand};
use crate::geometry::{DVec3, HalfSpace, Ray, square_to};
use std::collections::BTreeMap;

/// Generators tried round a tube to see whether it runs into another.
const TRIED: u32 = 24;

/// A plane is too flat for a cut when its normal is further from the tube's axis than about 85 degrees.
const FLATTEST: f64 = 0.087;

/// Fits the ends of every member.
pub(super) fn fit(design: &Design, frame: &mut Frame, findings: &mut Findings) {
    let positions: BTreeMap<String, usize> =
        frame.members.iter().enumerate().map(|(position, member)| (member.id.clone(), position)).collect();
    let boxes: Vec<(DVec3, DVec3)> = frame.members.iter().map(|member| bounds(frame, member)).collect();
    for position in 0..frame.members.len() {
        let source = &design.members[frame.members[position].source];
        let is_opposite = frame.members[position].id != source.id.as_str();
        let explicit = [
            source.ends.as_ref().and_then(|ends| ends.from.as_ref()),
            source.ends.as_ref().and_then(|ends| ends.to.as_ref()),
        ];
        for (end, explicit) in explicit.into_iter().enumerate() {
            let context = Context { design, frame, positions: &positions, position, end, is_opposite };
            let fitted = match explicit {
                Some(EndCut::Square) => context.square(),
                Some(EndCut::Cope(names)) => context.cope(names),
                Some(EndCut::Mitre(mitre)) => context.mitre(mitre, findings),
                None => context.by_default(&boxes, findings),
            };
            frame.members[position].ends[end] = fitted;
        }
    }
}

/// Point and outward direction of an end.
pub(crate) fn tip(member: &Member, end: usize) -> Ray {
    if end == 0 {
        Ray { origin: member.path.start(), direction: -member.path.first().direction }
    } else {
        Ray { origin: member.path.end(), direction: member.path.last().direction }
    }
}

fn bounds(frame: &Frame, member: &Member) -> (DVec3, DVec3) {
    let radius = DVec3::splat(frame.tube(member).od / 2.0);
    let corners = member.path.points(0.2);
    let low = corners.iter().copied().fold(DVec3::INFINITY, DVec3::min) - radius;
    let high = corners.iter().copied().fold(DVec3::NEG_INFINITY, DVec3::max) + radius;
    (low, high)
}

struct Context<'a> {
    design: &'a Design,
    frame: &'a Frame,
    positions: &'a BTreeMap<String, usize>,
    position: usize,
    end: usize,
    is_opposite: bool,
}

impl Context<'_> {
    fn member(&self) -> &Member {
        &self.frame.members[self.position]
    }

    fn pointer(&self) -> String {
        format!("/members/{}/ends/{}", self.member().source, ["from", "to"][self.end])
    }

    /// The member that a name stands for; on an opposite hand the partner of the named one, where there is one.
    fn named(&self, name: &str) -> Option<usize> {
        let swapped = if self.is_opposite { other_hand(name).and_then(|name| self.positions.get(&name)) } else { None };
        swapped.or_else(|| self.positions.get(name)).copied()
    }

    fn square(&self) -> Fit {
        let tip = tip(self.member(), self.end);
        let plane = HalfSpace { point: tip.origin, normal: -tip.direction };
        Fit { kind: CutKind::Square, by_default: false, targets: Vec::new(), plane: Some(plane) }
    }

    fn cope(&self, names: &[document::Name]) -> Fit {
        let targets = names.iter().filter_map(|name| self.named(name.as_str())).collect();
        Fit { by_default: false, kind: CutKind::Cope, targets, plane: None }
    }

    fn mitre(&self, mitre: &Mitre, findings: &mut Findings) -> Fit {
        let tip = tip(self.member(), self.end);
        let plane = match (&mitre.with, mitre.normal) {
            (Some(with), None) => self.halving_plane(with.as_str(), findings),
            (None, Some(normal)) => {
                let through = mitre.through.as_ref().and_then(|point| locate(self.design, point));
                let [normal, through] = [Some(DVec3::from_array(normal.0)), through]
                    .map(|vector| vector.map(|vector| if self.is_opposite { mirrored(vector) } else { vector }));
                let normal = normal.map_or(DVec3::Z, DVec3::normalize);
                let towards_body = if normal.dot(tip.direction) > 0.0 { -normal } else { normal };
                Some(HalfSpace { point: through.unwrap_or(tip.origin), normal: towards_body })
            }
            _ => None,
        };
        let Some(plane) = plane else {
            return self.square();
        };
        if plane.normal.dot(tip.direction).abs() < FLATTEST {
            let message =
                "This plane runs almost along the tube, so it cuts no end. Turn its normal towards the tube's axis.";
            findings.push(
                Finding::error("mitre-too-flat", self.pointer(), message.into()).about([self.member().id.as_str()]),
            );
            return self.square();
        }
        Fit { kind: CutKind::Mitre, by_default: false, targets: Vec::new(), plane: Some(plane) }
    }

    /// The plane that halves the angle to another tube which shares this end's point: normal `a1 - a2`, both directions
    /// running away from the shared point.
    fn halving_plane(&self, with: &str, findings: &mut Findings) -> Option<HalfSpace> {
        let member = self.member();
        let tip_here = tip(member, self.end);
        let partner = &self.frame.members[self.named(with)?];
        let mut refuse = |code: &str, message: String| {
            findings
                .push(Finding::error(code, self.pointer(), message).about([member.id.as_str(), partner.id.as_str()]));
            None
        };
        let shared = (0..2).map(|end| tip(partner, end)).find(|tip| tip.origin.distance(tip_here.origin) < 0.01);
        let Some(tip_there) = shared else {
            return refuse(
                "mitre-apart",
                format!(
                    "`{}` has no end at this point, so there is no angle to halve. Let both end at one point.",
                    partner.id
                ),
            );
        };
        let (here, there) = (self.frame.tube(member), self.frame.tube(partner));
        if (here.od - there.od).abs() > 1e-9 {
            return refuse(
                "mitre-unequal",
                format!(
                    "{} and {} tubes do not meet on the plane that halves their angle. Cope the smaller onto the larger.",
                    here.size(),
                    there.size()
                ),
            );
        }
        let normal = tip_there.direction - tip_here.direction;
        match normal.try_normalize() {
            Some(normal) => Some(HalfSpace { point: tip_here.origin, normal }),
            None => refuse(
                "mitre-apart",
                "Both tubes lie on one another here, so there is no angle to halve. Move one.".into(),
            ),
        }
    }

    fn by_default(&self, boxes: &[(DVec3, DVec3)], findings: &mut Findings) -> Fit {
        let tip = tip(self.member(), self.end);
        let reach = DVec3::splat(self.frame.tube(self.member()).od / 2.0);
        let mut targets: Vec<(f64, usize)> = Vec::new();
        for (earlier, &(low, high)) in boxes[..self.position].iter().enumerate() {
            let near = (tip.origin + reach).cmpge(low).all() && (tip.origin - reach).cmple(high).all();
            if near && self.runs_into(earlier, &tip) {
                targets.push((self.frame.members[earlier].bar.distance(tip.origin), earlier));
            }
        }
        if targets.is_empty() {
            let message = format!(
                "The {} end of `{}` runs into no earlier member and is cut square. Write \"square\" there if that is meant.",
                ["first", "last"][self.end],
                self.member().id
            );
            findings.push(
                Finding::information("end-unfitted", self.source_pointer(), message).about([self.member().id.as_str()]),
            );
            return self.square();
        }
        targets.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1)));
        Fit {
            kind: CutKind::Cope,
            by_default: true,
            targets: targets.into_iter().map(|(_, target)| target).collect(),
            plane: None,
        }
    }

    fn source_pointer(&self) -> String {
        format!("/members/{}", self.member().source)
    }

    /// True when this end's tube, coming from its body, meets the other before its own end.
    fn runs_into(&self, other: usize, tip: &Ray) -> bool {
        let (member, other) = (self.member(), &self.frame.members[other]);
        let radius = self.frame.tube(member).od / 2.0;
        if other.bar.distance(tip.origin) > radius {
            return false;
        }
        let leg = if self.end == 0 { member.path.first() } else { member.path.last() };
        let start = -if member.path.arcs.is_empty() { leg.length / 2.0 } else { leg.length };
        let Some(across) = square_to(tip.direction, member.path.carried(member.index)) else {
            return false;
        };
        let along = tip.direction.cross(across);
        (0..TRIED).any(|step| {
            let (sin, cos) = libm::sincos(core::f64::consts::TAU * f64::from(step) / f64::from(TRIED));
            let origin = tip.origin + (across * cos + along * sin) * radius;
            other.bar.first(&Ray { origin, direction: tip.direction }, start).is_some_and(|hit| hit.s < 1e-3)
        })
    }
}
