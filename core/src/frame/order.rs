//! The order in which everything is put in place, and where in it an end left long is trimmed.

use super::fit::tip;
use super::{CutKind, Fit, Frame, Member, Target};
use crate::document::{self, Design, Finding, Findings, PointRef, other_hand};
use crate::words::findings::frame::FrameFault;
use std::collections::{BTreeMap, BTreeSet};

/// Everything in the order in which it is put in place.
pub(super) fn of(frame: &Frame) -> Vec<Target> {
    let mut plates: Vec<usize> = (0..frame.plates.len()).collect();
    plates.sort_by_key(|&plate| frame.plates[plate].before);
    let mut plates = plates.into_iter().peekable();
    let mut order = Vec::with_capacity(frame.members.len() + frame.plates.len());
    for member in 0..frame.members.len() {
        while let Some(plate) = plates.next_if(|&plate| frame.plates[plate].before <= member) {
            order.push(Target::Plate(plate));
        }
        order.push(Target::Member(member));
    }
    order.extend(plates.map(Target::Plate));
    order
}

/// Finds for every end left long before what it is trimmed: after what the document names, or as late as it can be.
///
/// Adds an error where that is too late: what the end meets stands already, what stands on it comes before, or there is no room
/// over the plane on which the frame is built.
pub(super) fn trim(design: &Design, frame: &mut Frame, findings: &mut Findings) {
    let order = of(frame);
    let places: BTreeMap<Target, usize> = order.iter().enumerate().map(|(place, &target)| (target, place)).collect();
    let mut trimmed: Vec<(usize, usize, usize)> = Vec::new();
    for (position, member) in frame.members.iter().enumerate() {
        for end in (0..2).filter(|&end| member.leave_long[end] > 0.0) {
            let long = End { frame, places: &places, position, end };
            let latest = long.latest();
            let wanted = long.wanted(design, findings);
            let before = wanted.or(latest.as_ref().map(|latest| latest.before)).unwrap_or(order.len());
            if let Some(latest) = latest.filter(|latest| before > latest.before) {
                findings.push(long.too_late(&latest));
            }
            trimmed.push((position, end, before));
        }
    }
    for (position, end, before) in trimmed {
        frame.members[position].trim_before[end] = before;
    }
    measured_too_late(design, frame, &order, findings);
}

/// Before what an end has to be trimmed, and why.
struct Latest {
    before: usize,
    why: Why,
}

enum Why {
    /// It is fitted to something that stands already.
    Meets(Target),
    /// Something is fitted to it.
    Carries(Target),
    /// What is left long would reach below the base plane by so much, mm.
    Below(f64),
}

/// An end that is left long.
struct End<'a> {
    frame: &'a Frame,
    places: &'a BTreeMap<Target, usize>,
    position: usize,
    end: usize,
}

impl End<'_> {
    fn member(&self) -> &Member {
        &self.frame.members[self.position]
    }

    fn place(&self, target: Target) -> usize {
        self.places.get(&target).copied().unwrap_or(0)
    }

    /// The place after what the document names.
    fn wanted(&self, design: &Design, findings: &mut Findings) -> Option<usize> {
        let member = self.member();
        let source = &design.members[member.source];
        let long = source.leave_long.as_ref()?;
        let after = if self.end == 0 { &long.trim_from_after } else { &long.trim_to_after };
        let name = after.as_ref()?.as_str();
        let find = |name: &str| self.places.keys().find(|&&target| self.frame.name(target) == name).copied();
        let opposite = if member.id == source.id.as_str() { None } else { other_hand(name) };
        let Some(target) = opposite.and_then(|name| find(&name)).or_else(|| find(name)) else {
            let fact = FrameFault::TrimmedAfterLeftOut { name, id: &member.id };
            findings.push(Finding::error("target-left-out", self.pointer(), fact).about([member.id.as_str(), name]));
            return None;
        };
        Some(self.place(target) + 1)
    }

    /// Before what it must be trimmed at the latest; `None` where nothing ever stands in its way.
    fn latest(&self) -> Option<Latest> {
        let fit = &self.member().ends[self.end];
        let own = self.place(Target::Member(self.position));
        let met = fit.targets.iter().copied().chain(fit.plane_of);
        let met = met.map(|target| Latest { before: own.max(self.place(target)), why: Why::Meets(target) });
        let later = self.frame.members.iter().enumerate().filter(|(other, _)| *other != self.position);
        let carried = later
            .filter(|(_, other)| (0..2).any(|end| self.carries(other, end)))
            .map(|(other, _)| Target::Member(other))
            .map(|target| Latest { before: own.max(self.place(target)), why: Why::Carries(target) });
        let below = self.below().map(|by| Latest { before: own, why: Why::Below(by) });
        met.chain(carried).chain(below).min_by_key(|latest| latest.before)
    }

    /// True when the end of another member is fitted to this one where this end is cut.
    fn carries(&self, other: &Member, other_end: usize) -> bool {
        let fit: &Fit = &other.ends[other_end];
        let this = Target::Member(self.position);
        if fit.plane_of != Some(this) && !fit.targets.contains(&this) {
            return false;
        }
        let member = self.member();
        let (here, there) = (tip(member, self.end), tip(other, other_end));
        let is_nearer = there.origin.distance(here.origin) <= there.origin.distance(tip(member, 1 - self.end).origin);
        if matches!(fit.kind, CutKind::Plug | CutKind::Sleeve) {
            return is_nearer;
        }
        let reach = self.frame.section(other).profile.reach();
        let along = (there.origin - here.origin).dot(here.direction);
        is_nearer && along + reach > 1.0 && along - reach < member.leave_long[self.end]
    }

    /// How far what is left long would reach below the base plane, where the end itself does not.
    fn below(&self) -> Option<f64> {
        let member = self.member();
        let tip = tip(member, self.end);
        let over = tip.origin.z - self.frame.base;
        let by = -(over + tip.direction.z * member.leave_long[self.end]);
        (over > -0.5 && by > 0.5).then_some(by)
    }

    fn pointer(&self) -> String {
        let which = ["trim_from_after", "trim_to_after"][self.end];
        format!("/members/{}/leave_long/{which}", self.member().source)
    }

    fn too_late(&self, latest: &Latest) -> Finding {
        let id = self.member().id.as_str();
        let number = self.end + 1;
        let long = self.member().leave_long[self.end];
        let name = |target: Target| self.frame.name(target);
        let fact = match latest.why {
            Why::Meets(target) => FrameFault::NoRoomToTrim { number, id, met: name(target), long },
            Why::Carries(target) => FrameFault::FittedToLong { fitted: name(target), number, id, long },
            Why::Below(by) => FrameFault::StandsTooLow { id, number, long, by },
        };
        Finding::error("trim-too-late", self.pointer(), fact).about([id])
    }
}

/// Adds an error for each gauge that is measured when an end that hangs on it has been trimmed.
fn measured_too_late(design: &Design, frame: &Frame, order: &[Target], findings: &mut Findings) {
    for (index, step) in design.steps.iter().flatten().enumerate() {
        let place = order.iter().position(|&target| frame.name(target) == step.after.as_str());
        let Some(place) = place else { continue };
        for gauge in step.gauges.iter().flatten() {
            let Some(gauge_moves) = design.gauges.iter().flatten().find(|(name, _)| *name == gauge.as_str()) else {
                continue;
            };
            let moved: BTreeSet<&str> = gauge_moves.1.moves.keys().map(String::as_str).collect();
            let is_trimmed = |member: &Member| {
                (0..2).any(|end| member.leave_long[end] > 0.0 && member.trim_before[end] <= place)
                    && hangs_on(&design.members[member.source], &moved)
            };
            for member in frame.members.iter().filter(|member| is_trimmed(member)) {
                let fact = FrameFault::MeasuredTooLate {
                    gauge: gauge.as_str(),
                    after: step.after.as_str(),
                    trimmed: &member.id,
                };
                findings.push(
                    Finding::error("measured-too-late", format!("/steps/{index}/gauges"), fact)
                        .about([member.id.as_str()]),
                );
            }
        }
    }
}

/// True when a point of a member, or its partner of the other hand, moves.
pub(crate) fn hangs_on(member: &document::Member, moved: &BTreeSet<&str>) -> bool {
    let named = member.from.iter().chain(&member.to).chain(member.path.iter().flatten());
    named.into_iter().any(|point| {
        let PointRef::Named(name) = point else { return false };
        moved.contains(name.as_str()) || other_hand(name.as_str()).is_some_and(|other| moved.contains(other.as_str()))
    })
}
