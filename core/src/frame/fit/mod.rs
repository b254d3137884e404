//! What each end is fitted to: as the document says, or the earlier members and plates that it runs into.

mod by_default;
mod inside;
mod planes;

use super::{CutKind, Fit, Frame, Member, Target};
use crate::document::{Design, EndCut, Finding, Findings, Name, other_hand};
use crate::geometry::{Bounds, HalfSpace, Plate, Ray};
use crate::words::findings::frame::FrameFault;
use by_default::Neighbours;
pub(crate) use inside::overlap;
use std::collections::BTreeMap;

/// Fits the ends of every member.
pub(super) fn fit(design: &Design, frame: &mut Frame, findings: &mut Findings) {
    let members = frame.members.iter().enumerate().map(|(at, member)| (member.id.clone(), Target::Member(at)));
    let plates = frame.plates.iter().enumerate().map(|(at, plate)| (plate.id.clone(), Target::Plate(at)));
    let known: BTreeMap<String, Target> = members.chain(plates).collect();
    let neighbours = Neighbours::of(frame);
    let mut fits = Vec::with_capacity(frame.members.len());
    for position in 0..frame.members.len() {
        fits.push([0, 1].map(|end| {
            let source = &design.members[frame.members[position].source];
            let explicit =
                source.ends.as_ref().and_then(|ends| if end == 0 { ends.from.as_ref() } else { ends.to.as_ref() });
            let is_opposite = frame.members[position].id != source.id.as_str();
            let context = Context { design, frame, known: &known, position, end, is_opposite };
            match explicit {
                Some(EndCut::Square) => context.square(),
                Some(EndCut::Fitted { cope, mitre, face }) => {
                    let plane = match (mitre, face) {
                        (Some(mitre), _) => context.mitre(mitre, findings),
                        (None, Some(face)) => context.face(face, findings),
                        (None, None) => None,
                    };
                    context.fitted(cope, plane, findings)
                }
                Some(EndCut::Plug(plug)) => context.plug(plug, findings),
                Some(EndCut::Sleeve(sleeve)) => context.sleeve(sleeve, findings),
                None => context.by_default(&neighbours, findings),
            }
        }));
    }
    for (member, fit) in frame.members.iter_mut().zip(fits) {
        member.ends = fit;
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

/// The box that holds a member.
pub(crate) fn bounds(frame: &Frame, member: &Member) -> Bounds {
    let reach = frame.section(member).profile.reach();
    let widest = member.path.arcs.iter().map(|arc| arc.radius * 0.006).fold(0.0, f64::max);
    Bounds::around(member.path.points(0.2)).grown(reach + widest)
}

/// The box that holds a plate.
pub(crate) fn plate_bounds(plate: &Plate) -> Bounds {
    let (low, high) = plate.outline.bounds();
    let corners = [[low[0], low[1]], [high[0], low[1]], [high[0], high[1]], [low[0], high[1]]];
    Bounds::around(corners.iter().flat_map(|&corner| [0.0, plate.thickness].map(|height| plate.point(corner, height))))
}

/// A plane and what it belongs to.
struct Plane {
    half_space: HalfSpace,
    of: Option<Target>,
}

struct Context<'a> {
    design: &'a Design,
    frame: &'a Frame,
    known: &'a BTreeMap<String, Target>,
    position: usize,
    end: usize,
    is_opposite: bool,
}

impl<'a> Context<'a> {
    fn member(&self) -> &'a Member {
        &self.frame.members[self.position]
    }

    /// The number by which people know the end.
    fn number(&self) -> usize {
        self.end + 1
    }

    fn pointer(&self) -> String {
        format!("/members/{}/ends/{}", self.member().source, ["from", "to"][self.end])
    }

    /// What a name stands for; on an opposite hand the partner of the named one, where there is one.
    fn named(&self, name: &str) -> Option<Target> {
        let swapped = if self.is_opposite { other_hand(name).and_then(|name| self.known.get(&name)) } else { None };
        swapped.or_else(|| self.known.get(name)).copied()
    }

    /// As [`Self::named`], with an error when a choice has left it out or it comes later.
    fn there(&self, name: &str, findings: &mut Findings) -> Option<Target> {
        let id = self.member().id.as_str();
        let Some(target) = self.named(name) else {
            let fact = FrameFault::FittedToLeftOut { name, end: self.number(), id };
            findings.push(Finding::error("target-left-out", self.pointer(), fact).about([id, name]));
            return None;
        };
        if let Target::Plate(plate) = target
            && self.frame.plates[plate].before > self.position
        {
            let fact = FrameFault::FittedToLater { name, id };
            findings.push(Finding::error("fitted-to-later", self.pointer(), fact).about([id, name]));
            return None;
        }
        Some(target)
    }

    fn square(&self) -> Fit {
        let tip = tip(self.member(), self.end);
        let plane = HalfSpace { point: tip.origin, normal: -tip.direction };
        Fit { kind: CutKind::Square, by_default: false, targets: Vec::new(), plane: Some(plane), plane_of: None }
    }

    fn fitted(&self, names: &[Name], plane: Option<Plane>, findings: &mut Findings) -> Fit {
        let targets: Vec<Target> = names.iter().filter_map(|name| self.there(name.as_str(), findings)).collect();
        let kind = match (targets.is_empty(), &plane) {
            (true, None) => return self.square(),
            (true, Some(_)) => CutKind::Mitre,
            (false, None) => CutKind::Cope,
            (false, Some(_)) => CutKind::CopeAndMitre,
        };
        let plane_of = plane.as_ref().and_then(|plane| plane.of);
        Fit { kind, by_default: false, targets, plane: plane.map(|plane| plane.half_space), plane_of }
    }
}
