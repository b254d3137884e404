//! How the steps of the fit-up order are called: by their numbers, and in the pages of a notice by the notice and their place there, so that
//! none can be taken for a step of the order that is kept.

use super::furniture::Furniture;
use crate::sheets::{Changes, FitUpStep, StepPlace};
use crate::words::groups::step_names;

/// What the steps of a pack, or of the pages of a notice, are called.
#[derive(Clone, Copy)]
pub(in crate::pack) struct StepNames<'a> {
    /// What changed, in a pack of that alone.
    changes: Option<&'a Changes>,
    /// Number of the notice whose pages these are.
    notice: Option<i64>,
    say: &'static step_names::StepNames,
}

impl<'a> StepNames<'a> {
    pub(in crate::pack) fn of(furniture: Furniture<'a>) -> Self {
        let issue = furniture.issue;
        let changes = issue.since.as_ref().filter(|since| since.only).map(|since| &since.changes);
        let notice = issue.notice().filter(|_| changes.is_some());
        Self { changes, notice, say: &furniture.words.step_names }
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
        self.say.of_notice(notice, here().filter(|known| *known <= number).count())
    }

    /// What stands behind a step's title in a pack of what changed: which step of the order before it is, or where it comes in that.
    pub(in crate::pack) fn before(self, step: &FitUpStep) -> Option<String> {
        let changes = self.changes?;
        let place = changes.order.iter().find(|place| place.new == Some(step.number));
        let old = place.and_then(|place| Some((place.old?, place.same)));
        if changes.renumbers_steps() {
            return Some(match old {
                Some((old, true)) => self.say.was(old),
                Some((old, false)) => self.say.changed(old),
                None => self.say.new().to_owned(),
            });
        }
        let kept = || changes.order.iter().filter(|place| place.same);
        // The last step that is kept and is done before this one, now and before.
        let now = kept().filter(|place| place.new < Some(step.number)).filter_map(|place| place.old).max();
        Some(match old {
            Some((old, _)) => {
                let before = kept().filter_map(|place| place.old).filter(|kept| *kept < old).max();
                match now {
                    _ if before == now => self.say.in_place(old),
                    None => self.say.moved_to_start(old),
                    Some(now) => self.say.moved_after(old, now),
                }
            }
            None => now.map_or_else(|| self.say.new_at_start().to_owned(), |now| self.say.new_after(now)),
        })
    }
}
