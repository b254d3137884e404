//! Parts that were made anew for one notice and that another one names too: its work counts from how they were before, and must not be done
//! a second time.

use crate::rules::holder_news::day;
use crate::rules::states::States;
use matchmark_core::pack::MadeAlready;
use matchmark_core::sheets::{ChangeKind, Changes, PartChange};
use matchmark_store::notices::NoticeKitRow;
use std::collections::BTreeSet;

/// What of the work of a notice was made anew already, by which other notices to the kit; nothing for one that is done itself.
pub(crate) fn made_already(states: &States, of_kit: &[NoticeKitRow], notice: &NoticeKitRow) -> Vec<MadeAlready> {
    if notice.done_at.is_some() {
        return Vec::new();
    }
    let named = parts(notice);
    let made = of_kit.iter().filter(|other| {
        // Of a change that the kit had when the notice was raised its work takes account.
        other.number != notice.number && states.comes_before(&notice.revision, &other.to_revision)
    });
    let made = made.filter_map(|other| {
        let parts: Vec<String> = parts(other).intersection(&named).cloned().collect();
        let day = day(other.done_at.as_deref()?);
        (!parts.is_empty()).then_some(MadeAlready { notice: other.number, day, parts })
    });
    made.collect()
}

fn parts(notice: &NoticeKitRow) -> BTreeSet<String> {
    let work = Changes::read(&notice.changes);
    let parts = work.into_iter().flat_map(|work| work.parts);
    let is_made = |part: &PartChange| !matches!(part.kind, ChangeKind::Unchanged | ChangeKind::Removed);
    parts.filter(is_made).map(|part| part.member).collect()
}
