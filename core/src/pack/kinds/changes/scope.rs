//! What a pack of what changed shows of the sheets.

use crate::pack::Issue;
use crate::sheets::{ChangeKind, Changes, PartChange, Sheets};
use std::collections::{HashMap, HashSet};

/// Which parts, check dimensions and steps a pack shows: all, or in a pack of what changed those.
pub(in crate::pack) struct Scope<'a> {
    /// `None` for a whole pack.
    only: Option<Changed<'a>>,
}

struct Changed<'a> {
    kinds: HashMap<&'a str, ChangeKind>,
    renumbered: HashSet<&'a str>,
    /// Parts that are trimmed at another step.
    retold: HashSet<&'a str>,
    checks: HashSet<&'a str>,
    /// `None` when the whole order of steps is told anew.
    steps: Option<HashSet<usize>>,
}

impl<'a> Changed<'a> {
    fn of(changes: &'a Changes) -> Self {
        let is_renumbered = |part: &&PartChange| {
            let numbers = part.old_number.as_ref().zip(part.new_number.as_ref());
            numbers.is_some_and(|(old, new)| old != new)
        };
        Self {
            kinds: changes.parts.iter().map(|part| (part.member.as_str(), part.kind)).collect(),
            renumbered: changes.parts.iter().filter(is_renumbered).map(|part| part.member.as_str()).collect(),
            retold: changes.trim_steps.iter().map(|trim| trim.member.as_str()).collect(),
            checks: changes.checks.iter().map(|check| check.name.as_str()).collect(),
            steps: (!changes.renumbers_steps())
                .then(|| changes.order.iter().filter(|step| !step.same).filter_map(|step| step.new).collect()),
        }
    }

    fn kind(&self, mark: &str) -> ChangeKind {
        self.kinds.get(mark).copied().unwrap_or(ChangeKind::Unchanged)
    }
}

impl<'a> Scope<'a> {
    pub(in crate::pack) fn of(issue: &'a Issue) -> Self {
        Self { only: issue.since.as_ref().filter(|since| since.only).map(|since| Changed::of(&since.changes)) }
    }

    /// What changed, whatever the pack shows.
    pub(super) fn of_changes(changes: &'a Changes) -> Self {
        Self { only: Some(Changed::of(changes)) }
    }

    /// True when it shows only what changed.
    pub(in crate::pack) fn is_part(&self) -> bool {
        self.only.is_some()
    }

    /// Whether a part is made, or made into another.
    pub(in crate::pack) fn makes(&self, mark: &str) -> bool {
        self.only.as_ref().is_none_or(|changed| {
            let kind = changed.kind(mark);
            matches!(kind, ChangeKind::Rework | ChangeKind::Replace | ChangeKind::Added)
                || changed.renumbered.contains(mark)
        })
    }

    /// Whether a part that is not made anew is trimmed at another step than its sheets from before say.
    pub(in crate::pack) fn retells(&self, mark: &str) -> bool {
        self.only.as_ref().is_some_and(|changed| changed.retold.contains(mark)) && !self.makes(mark)
    }

    /// Whether the sheets of a part are shown, by which it is cut and trimmed: those of a part that is made, and those that name a step.
    pub(in crate::pack) fn shows(&self, mark: &str) -> bool {
        self.makes(mark) || self.retells(mark)
    }

    /// Whether a part is sawn from a new bar.
    fn saws(&self, mark: &str) -> bool {
        self.only.as_ref().is_none_or(|changed| matches!(changed.kind(mark), ChangeKind::Replace | ChangeKind::Added))
    }

    /// Whether a part is made, or goes to another place.
    pub(super) fn places(&self, mark: &str) -> bool {
        self.makes(mark) || self.only.as_ref().is_some_and(|changed| changed.kind(mark) == ChangeKind::Moved)
    }

    /// Whether the sheets of a part from before the change are void: it changed, or they name a step that is another now.
    pub(super) fn voids_sheets(&self, mark: &str) -> bool {
        self.voids(mark) || self.retells(mark)
    }

    /// Whether a part from before the change is made or used no more.
    pub(super) fn voids(&self, mark: &str) -> bool {
        self.makes(mark) || self.only.as_ref().is_some_and(|changed| changed.kind(mark) == ChangeKind::Removed)
    }

    /// Whether a check dimension is shown.
    pub(in crate::pack) fn checks(&self, name: &str) -> bool {
        self.only.as_ref().is_none_or(|changed| changed.checks.contains(name))
    }

    fn step(&self, number: usize) -> bool {
        let steps = self.only.as_ref().and_then(|changed| changed.steps.as_ref());
        steps.is_none_or(|steps| steps.contains(&number))
    }
}

/// The sheets of what is made, sawn or put in place anew, each with the numbers that it has in the whole revision. What other pages
/// look up, such as part numbers, stays whole.
pub(in crate::pack) fn changed_only(sheets: &Sheets, changes: &Changes) -> Sheets {
    let scope = Scope::of_changes(changes);
    let mut only = sheets.clone();
    only.bend_sheets.retain(|sheet| scope.shows(&sheet.member));
    only.jigs.retain(|sheet| scope.places(&sheet.member) || scope.retells(&sheet.member));
    only.strips.retain(|strip| scope.shows(&strip.member));
    only.fit_up.steps.retain(|step| scope.step(step.number));
    let count = |number: &str| {
        let part = sheets.parts.iter().find(|part| part.number == number);
        part.map_or(0, |part| part.members.iter().filter(|member| scope.saws(member) && !sheets.stands(member)).count())
    };
    for section in &mut only.stock {
        for part in &mut section.parts {
            part.quantity = u32::try_from(count(&part.number)).unwrap_or(u32::MAX);
        }
        section.parts.retain(|part| part.quantity > 0);
    }
    only.stock.retain(|section| !section.parts.is_empty());
    only
}
