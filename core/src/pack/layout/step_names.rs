//! How the steps of the fit-up order are called: by their numbers, and in the pages of a notice by the notice and their place there, so that
//! none can be taken for a step of the order that is kept.

use crate::pack::Issue;
use crate::sheets::{Changes, FitUpStep, StepPlace};

/// What the steps of a pack, or of the pages of a notice, are called.
#[derive(Clone, Copy)]
pub(in crate::pack) struct StepNames<'a> {
    /// What changed, in a pack of that alone.
    changes: Option<&'a Changes>,
    /// Number of the notice whose pages these are.
    notice: Option<i64>,
}

impl<'a> StepNames<'a> {
    pub(in crate::pack) fn of(issue: &'a Issue) -> Self {
        let changes = issue.since.as_ref().filter(|since| since.only).map(|since| &since.changes);
        let notice = issue.seal.as_ref().and_then(|seal| seal.notice).filter(|_| changes.is_some());
        Self { changes, notice }
    }

    /// Whether the steps have names that are no numbers of any order.
    pub(in crate::pack) fn are_own(self) -> bool {
        self.notice.is_some()
    }

    /// What a step is called, by its number in the order of the revision.
    pub(in crate::pack) fn name(self, number: usize) -> String {
        let Some((changes, notice)) = self.changes.zip(self.notice) else { return number.to_string() };
        let is_here = |place: &&StepPlace| !place.same || changes.renumbers_steps();
        let here = || changes.order.iter().filter(is_here).filter_map(|place| place.new);
        if !here().any(|known| known == number) {
            // A step that is kept has its number in both orders.
            return number.to_string();
        }
        format!("N{notice}.{}", here().filter(|known| *known <= number).count())
    }

    /// What stands behind a step's title in a pack of what changed: which step of the order before it is, or where it comes in that.
    pub(in crate::pack) fn before(self, step: &FitUpStep) -> Option<String> {
        let changes = self.changes?;
        let place = changes.order.iter().find(|place| place.new == Some(step.number));
        let old = place.and_then(|place| Some((place.old?, place.same)));
        if changes.renumbers_steps() {
            return Some(match old {
                Some((old, true)) => format!("step {old} before"),
                Some((old, false)) => format!("changed, step {old} before"),
                None => "new".to_owned(),
            });
        }
        let kept = || changes.order.iter().filter(|place| place.same);
        // The last step that is kept and is done before this one, now and before.
        let now = kept().filter(|place| place.new < Some(step.number)).filter_map(|place| place.old).max();
        let after = now.map_or_else(|| "before all that are kept".to_owned(), |now| format!("after step {now}"));
        Some(match old {
            Some((old, _)) => {
                let before = kept().filter_map(|place| place.old).filter(|kept| *kept < old).max();
                let moved = if before == now { String::new() } else { format!(", but {after}") };
                format!("in place of step {old}{moved}")
            }
            None => format!("new, {after}"),
        })
    }
}
