//! Ends without an explicit cut: fitted to the earlier members and plates that they run into.

use super::{Context, bounds, plate_bounds, tip};
use crate::document::{Finding, Findings};
use crate::frame::{CutKind, Fit, Frame, Target};
use crate::geometry::{Bounds, DVec3, Ray, Solid, Tree};
use crate::words::findings::frame::FrameFault;

/// Generators tried round a tube to see whether it runs into another.
const TRIED: u32 = 24;

/// Everything that an end can run into, to be asked for what is near.
pub(super) struct Neighbours {
    tree: Tree,
    targets: Vec<Target>,
}

impl Neighbours {
    pub(super) fn of(frame: &Frame) -> Self {
        let members = frame.members.iter().enumerate().map(|(at, member)| (Target::Member(at), bounds(frame, member)));
        let plates =
            frame.plates.iter().enumerate().map(|(at, placed)| (Target::Plate(at), plate_bounds(&placed.plate)));
        let (targets, boxes): (Vec<Target>, Vec<Bounds>) = members.chain(plates).unzip();
        Self { tree: Tree::new(&boxes), targets }
    }
}

impl Context<'_> {
    pub(super) fn by_default(&self, neighbours: &Neighbours, findings: &mut Findings) -> Fit {
        let member = self.member();
        let tip = tip(member, self.end);
        let reach = self.frame.section(member).profile.reach();
        let near = neighbours.tree.overlapping(&Bounds { low: tip.origin, high: tip.origin }.grown(reach));
        let mut targets: Vec<(f64, Target)> = Vec::new();
        for target in near.into_iter().map(|near| neighbours.targets[near]) {
            let is_earlier = match target {
                Target::Member(other) => other < self.position,
                Target::Plate(plate) => self.frame.plates[plate].before <= self.position,
            };
            if !is_earlier {
                continue;
            }
            let solid = match target {
                Target::Member(other) => &self.frame.members[other].bar,
                Target::Plate(_) => &self.frame.solid(target, 0.0),
            };
            if self.runs_into(solid, &tip, reach) {
                targets.push((solid.distance(tip.origin), target));
            }
        }
        if targets.is_empty() {
            let fact = FrameFault::Unfitted { end: self.number(), id: &member.id };
            let pointer = format!("/members/{}", member.source);
            findings.push(Finding::information("end-unfitted", pointer, fact).about([member.id.as_str()]));
            return self.square();
        }
        targets.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1)));
        Fit {
            kind: CutKind::Cope,
            by_default: true,
            targets: targets.into_iter().map(|(_, target)| target).collect(),
            plane: None,
            plane_of: None,
        }
    }

    /// True when this end's tube, coming from its body, meets the other before its own end.
    fn runs_into(&self, other: &Solid, tip: &Ray, reach: f64) -> bool {
        if other.distance(tip.origin) > reach {
            return false;
        }
        let member = self.member();
        let profile = self.frame.section(member).profile;
        let leg = if self.end == 0 { member.path.first() } else { member.path.last() };
        let start = -if member.path.arcs.is_empty() { leg.length / 2.0 } else { leg.length };
        let index = if self.end == 0 { member.index } else { member.path.carried(member.index) };
        let side: DVec3 = leg.direction.cross(index);
        let perimeter = profile.perimeter();
        (0..TRIED).any(|step| {
            let [x, y] = profile.spot(perimeter * f64::from(step) / f64::from(TRIED), 0.0).at;
            let origin = tip.origin + index * x + side * y;
            other.first(&Ray { origin, direction: tip.direction }, start).is_some_and(|hit| hit.s < 1e-3)
        })
    }
}
