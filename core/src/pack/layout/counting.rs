//! Which of two lists counts for a part, a check dimension or a thing to do that both name: the pack's list of what changed, or that of a
//! notice. A notice counts whose change the pack does not have, or that was done before the kit got the revision with it; else the
//! list does, which is worked out for the kit as it is.

use super::furniture::Furniture;
use crate::pack::{Notice, Since};
use crate::sheets::{ChangeKind, Changes, CheckChange, PartChange, StepChange};

/// A list of what changed, without what notices count for.
pub(in crate::pack) struct Counting<'a> {
    /// What the list counts for.
    pub(in crate::pack) listed: Changes,
    /// What it does not count for, each with the notices that do.
    pub(in crate::pack) left: Vec<(Left<'a>, Vec<&'a Notice>)>,
    /// Numbers of the notices that name something of the list and do not count for it.
    pub(in crate::pack) over: Vec<i64>,
}

/// What a list of what changed leaves to notices.
pub(in crate::pack) enum Left<'a> {
    Part(&'a PartChange),
    Check(&'a CheckChange),
    Step(&'a StepChange),
}

impl<'a> Counting<'a> {
    pub(in crate::pack) fn of(since: &'a Since, furniture: Furniture<'a>) -> Self {
        let (changes, notices) = (&since.changes, &furniture.issue.notices);
        let counting = |is_named: &dyn Fn(&Notice) -> bool| {
            notices.iter().filter(|notice| notice.counts() && is_named(notice)).collect::<Vec<&Notice>>()
        };
        let mut left = Vec::new();
        let mut is_listed = |what: Left<'a>, is_named: &dyn Fn(&Notice) -> bool| {
            let notices = counting(is_named);
            let is_listed = notices.is_empty();
            if !is_listed {
                left.push((what, notices));
            }
            is_listed
        };
        let parts = changes.parts.iter().filter(|part| is_listed(Left::Part(part), &|notice| notice.names_part(part)));
        let parts = parts.cloned().collect();
        let checks = changes.checks.iter().filter(|check| {
            is_listed(Left::Check(check), &|notice| notice.is_lacking() && notice.names_check(&check.name))
        });
        let checks = checks.cloned().collect();
        let steps = changes.steps.iter().filter(|step| is_listed(Left::Step(step), &|notice| notice.names_step(step)));
        let steps = steps.cloned().collect();
        let listed =
            Changes { parts, checks, steps, order: changes.order.clone(), trim_steps: changes.trim_steps.clone() };
        let own = furniture.issue.notice();
        let over = notices.iter().filter(|notice| {
            !notice.counts() && !notice.is_stopped && Some(notice.number) != own && notice.names_some_of(&listed)
        });
        let over = over.map(|notice| notice.number).collect();
        Self { listed, left, over }
    }

    /// How many parts are left to notices.
    pub(in crate::pack) fn parts_left(&self) -> usize {
        self.left.iter().filter(|(left, _)| matches!(left, Left::Part(_))).count()
    }
}

impl Notice {
    /// Whether the pack does not have its change.
    pub(in crate::pack) fn is_lacking(&self) -> bool {
        self.work.is_some() && !self.is_in_pack
    }

    /// Whether it counts for what it names, and no list of what changed does; of check dimensions only where the pack lacks its change.
    pub(in crate::pack) fn counts(&self) -> bool {
        self.is_lacking() || self.work.is_some() && self.done.is_some()
    }

    /// Whether it names something that a list of what changed names too.
    pub(in crate::pack) fn names_some_of(&self, changes: &Changes) -> bool {
        changes.parts.iter().any(|part| part.kind != ChangeKind::Unchanged && self.names_part(part))
            || changes.checks.iter().any(|check| self.names_check(&check.name))
            || changes.steps.iter().any(|step| self.names_step(step))
    }

    fn names_part(&self, part: &PartChange) -> bool {
        let is_it = |own: &PartChange| own.member == part.member && own.kind != ChangeKind::Unchanged;
        self.work.iter().any(|work| work.parts.iter().any(is_it))
    }

    pub(in crate::pack) fn names_check(&self, name: &str) -> bool {
        self.work.iter().any(|work| work.checks.iter().any(|check| check.name == name))
    }

    fn names_step(&self, step: &StepChange) -> bool {
        let is_it = |own: &StepChange| own.after == step.after && own.what == step.what;
        self.work.iter().any(|work| work.steps.iter().any(is_it))
    }
}
