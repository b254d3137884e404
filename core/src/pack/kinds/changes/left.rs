//! What a list of what changed leaves to notices.

use crate::pack::Notice;
use crate::pack::layout::counting::{Counting, Left};
use crate::pack::layout::flow::{Column, Flow};

/// Writes what notices count for, and what is done with it; nothing where there is nothing.
pub(super) fn write(flow: &mut Flow, counting: &Counting) {
    if counting.left.is_empty() {
        return;
    }
    let figures = flow.figures();
    let say = &figures.words.changes;
    flow.heading(&say.heading_left(counting.left.len()));
    flow.paragraph(say.how_left());
    flow.start_table(&[Column::marks(say.head_mark(), 0.4), Column::words(say.head_what_to_do(), 0.6)]);
    for (left, notices) in &counting.left {
        let what = match left {
            Left::Part(part) => part.member.clone(),
            Left::Check(check) => check.name.clone(),
            Left::Step(step) => say.left_step(&step.after, &step.what),
        };
        let to_do = notices.iter().map(|notice: &&Notice| match &notice.done {
            _ if notice.is_stopped => say.left_to_stopped(notice.number),
            Some(day) if notice.is_remeasured => say.left_to_remeasured(notice.number, day),
            Some(day) => say.left_to_done(notice.number, day),
            None => say.left_to(notice.number),
        });
        flow.row(&[what, to_do.collect::<Vec<_>>().join("; ")], "");
    }
    flow.end_table();
}
