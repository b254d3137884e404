//! What a notice makes void: the one place that says so, for every sheet, row and step of a pack from before its change.

use super::figures::members;
use crate::pack::{Issue, Notice};
use crate::sheets::{ChangeKind, FitUpStep, PartChange, StepKind};

/// What each notice says of the sheets of a part, a sentence each.
pub(in crate::pack) fn of_part(mark: &str, issue: &Issue) -> Vec<String> {
    of_parts(&[mark], issue)
}

/// The same for parts that share a sheet or a row, by name where not all of them are meant.
pub(in crate::pack) fn of_parts(marks: &[&str], issue: &Issue) -> Vec<String> {
    let said = issue.notices.iter().filter_map(|notice| {
        let meant: Vec<String> =
            marks.iter().filter(|mark| notice.makes_anew(mark)).map(|mark| (*mark).to_owned()).collect();
        if meant.is_empty() {
            return None;
        }
        let which = if meant.len() == marks.len() { String::new() } else { format!(" {}", members(&meant)) };
        let (parts, were) = if meant.len() == 1 { ("this part", "was") } else { ("these parts", "were") };
        let number = notice.number;
        Some(match notice.done {
            Some(_) => {
                format!("do not cut{which}: {parts} {were} made anew for notice {number}, from the pages of that")
            }
            None => format!("do not cut{which}: read notice {number} first, it changes {parts}"),
        })
    });
    said.collect()
}

/// What each notice says of where a part stands: it is made anew, or goes to another place.
pub(in crate::pack) fn of_place(mark: &str, issue: &Issue) -> Vec<String> {
    let changing = issue.notices.iter().filter(|notice| notice.makes_anew(mark) || notice.moves(mark));
    changing.map(|notice| not_by_this("set nothing up by this page", notice)).collect()
}

/// What each notice says of a step of the fit-up order.
pub(in crate::pack) fn of_step(step: &FitUpStep, issue: &Issue) -> Vec<String> {
    let changing = issue.notices.iter().filter(|notice| match step.kind {
        StepKind::Work => notice.leaves_out(step),
        StepKind::Tube | StepKind::Plate | StepKind::Trim => {
            notice.makes_anew(&step.member) || notice.moves(&step.member)
        }
    });
    changing.map(|notice| not_by_this("do not do this step", notice)).collect()
}

fn not_by_this(what: &str, notice: &Notice) -> String {
    let number = notice.number;
    match notice.done {
        Some(_) => format!("{what}: notice {number}, which is done, changed it; go by the pages of that"),
        None => format!("{what}: read notice {number} first, it changes it"),
    }
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
