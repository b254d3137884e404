//! What a notice makes void: the one place that says so, for every sheet, row and step of a pack from before its change.

use super::figures::members;
use super::furniture::Furniture;
use crate::pack::Notice;
use crate::sheets::{ChangeKind, FitUpStep, PartChange, StepKind};

/// What each notice says of the sheets of a part, a sentence each.
pub(in crate::pack) fn of_part(mark: &str, furniture: Furniture) -> Vec<String> {
    of_parts(&[mark], furniture)
}

/// The same for parts that share a sheet or a row, by name where not all of them are meant.
pub(in crate::pack) fn of_parts(marks: &[&str], furniture: Furniture) -> Vec<String> {
    let say = &furniture.words.barred;
    let said = furniture.issue.notices.iter().filter_map(|notice| {
        let meant: Vec<String> =
            marks.iter().filter(|mark| notice.makes_anew(mark)).map(|mark| (*mark).to_owned()).collect();
        if meant.is_empty() {
            return None;
        }
        let (number, which) = (notice.number, members(&meant));
        Some(match (notice.done.is_some(), meant.len() == marks.len(), meant.len() == 1) {
            (false, true, true) => say.this_is_changed(number),
            (false, true, false) => say.these_are_changed(number),
            (false, false, true) => say.one_is_changed(which, number),
            (false, false, false) => say.some_are_changed(which, number),
            (true, true, true) => say.this_was_made_anew(number),
            (true, true, false) => say.these_were_made_anew(number),
            (true, false, true) => say.one_was_made_anew(which, number),
            (true, false, false) => say.some_were_made_anew(which, number),
        })
    });
    said.collect()
}

/// What each notice says of where a part stands: it is made anew, or goes to another place.
pub(in crate::pack) fn of_place(mark: &str, furniture: Furniture) -> Vec<String> {
    let say = &furniture.words.barred;
    let changing = furniture.issue.notices.iter().filter(|notice| notice.makes_anew(mark) || notice.moves(mark));
    let said = changing.map(|notice| match notice.done {
        Some(_) => say.place_was_changed(notice.number),
        None => say.place_is_changed(notice.number),
    });
    said.collect()
}

/// What each notice says of a step of the fit-up order.
pub(in crate::pack) fn of_step(step: &FitUpStep, furniture: Furniture) -> Vec<String> {
    let say = &furniture.words.barred;
    let changing = furniture.issue.notices.iter().filter(|notice| match step.kind {
        StepKind::Work => notice.leaves_out(step),
        StepKind::Tube | StepKind::Plate | StepKind::Trim => {
            notice.makes_anew(&step.member) || notice.moves(&step.member)
        }
    });
    let said = changing.map(|notice| match notice.done {
        Some(_) => say.step_was_changed(notice.number),
        None => say.step_is_changed(notice.number),
    });
    said.collect()
}

/// What each notice says of a check dimension, beside its figure.
pub(in crate::pack) fn of_figure(check: &str, furniture: Furniture) -> Vec<String> {
    let say = &furniture.words.barred;
    let said = changing(check, furniture).map(|notice| match notice.done {
        Some(_) => say.figure_was_changed(notice.number),
        None => say.figure_is_changed(notice.number),
    });
    said.collect()
}

/// The same of check dimensions that are named without their figures.
pub(in crate::pack) fn of_checks(checks: &[String], furniture: Furniture) -> Vec<String> {
    let say = &furniture.words.barred;
    let said = checks.iter().flat_map(|check| {
        changing(check, furniture).map(move |notice| match notice.done {
            Some(_) => say.check_was_changed(check, notice.number),
            None => say.check_is_changed(check, notice.number),
        })
    });
    said.collect()
}

/// Notices that change a check dimension of the pack.
pub(in crate::pack) fn changing<'a>(check: &'a str, furniture: Furniture<'a>) -> impl Iterator<Item = &'a Notice> {
    furniture.issue.notices.iter().filter(|notice| notice.is_lacking() && notice.names_check(check))
}

impl Notice {
    /// Whether the pack's pages of a part are not to be used: before the notice was read, or because the part was made anew for it.
    fn makes_anew(&self, mark: &str) -> bool {
        self.changes(mark, &[ChangeKind::Rework, ChangeKind::Replace, ChangeKind::Removed])
    }

    /// Whether a part of the pack goes to another place.
    fn moves(&self, mark: &str) -> bool {
        self.changes(mark, &[ChangeKind::Moved])
    }

    /// Whether something to do is left out, or is another thing now.
    fn leaves_out(&self, step: &FitUpStep) -> bool {
        let mut steps = self.work.iter().filter(|_| !self.is_in_pack).flat_map(|work| &work.steps);
        steps.any(|change| !change.added && change.after == step.member && change.what == step.note)
    }

    fn changes(&self, mark: &str, kinds: &[ChangeKind]) -> bool {
        let is_meant = |part: &PartChange| part.member == mark && kinds.contains(&part.kind);
        !self.is_in_pack && self.work.as_ref().is_some_and(|work| work.parts.iter().any(is_meant))
    }
}
