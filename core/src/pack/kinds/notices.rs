//! Notices to the holder of the kit: those that are not done yet, with the rework of each, and those done whose change the pack does not
//! have.

use super::changes::write_changes;
use super::cover::contents_of;
use super::cut_sheet::has_measured;
use crate::drawing::{Area, Path, Pen, Text};
use crate::pack::layout::counting::Counting;
use crate::pack::layout::flow::Flow;
use crate::pack::layout::furniture::Furniture;
use crate::pack::{Content, Notice, OnPage, RenderError, SheetKind, Since};
use crate::sheets::{ChangeKind, PartChange, Sheets};

/// Size of the boxes in which the builder signs, mm.
const DATE: f64 = 34.0;
const NAME: f64 = 70.0;
const HIGH: f64 = 8.0;

/// The pages of the notices; none when there are none.
pub(in crate::pack) fn pages(sheets: &Sheets, furniture: Furniture) -> Result<Vec<Content>, RenderError> {
    let notices = &furniture.issue.notices;
    if notices.is_empty() {
        return Ok(Vec::new());
    }
    let (title, say) = (furniture.words.kinds.notices(), &furniture.words.notices);
    let mut flow = Flow::new(furniture, furniture.content_area(), title);
    let (open, done): (Vec<&Notice>, Vec<&Notice>) = notices.iter().partition(|notice| notice.done.is_none());
    if !open.is_empty() {
        flow.paragraph(say.what_they_are());
    }
    for notice in open {
        write(&mut flow, notice, sheets, furniture);
    }
    for notice in done {
        write_done(&mut flow, notice, furniture);
    }
    Ok(contents_of(flow, OnPage::of_frame(SheetKind::Notices, title)))
}

fn write(flow: &mut Flow, notice: &Notice, sheets: &Sheets, furniture: Furniture) {
    let (Notice { number, date, from, to, .. }, say) = (notice, &furniture.words.notices);
    let class = furniture.figures().notice_class(notice.class);
    flow.heading(&say.heading(number, class, date, from, to));
    for line in lines(&notice.text) {
        flow.paragraph(&line);
    }
    if notice.is_stopped {
        flow.paragraph(&say.stop_the_work(to));
        return;
    }
    let revision = &furniture.issue.revision;
    let is_listed = is_listed(notice, furniture.issue.since.as_ref());
    match &notice.work {
        Some(_) if is_listed => flow.paragraph(say.work_is_listed()),
        None => flow.paragraph(say.work_is_unknown()),
        Some(_) if notice.is_in_pack => flow.paragraph(&say.pack_has_change(revision)),
        Some(_) => flow.paragraph(&say.pack_lacks_change(revision, to)),
    }
    for made in &notice.made_already {
        flow.paragraph(&say.made_already(made.notice, &made.day, made.parts.join(", ")));
    }
    if let Some(work) = notice.work.as_ref().filter(|_| !is_listed) {
        which_counts(flow, notice, furniture);
        if has_measured(sheets) {
            flow.paragraph(say.measured());
        }
        write_changes(flow, work, furniture.content_area());
    }
    sign(flow, *number, furniture);
}

fn write_done(flow: &mut Flow, notice: &Notice, furniture: Furniture) {
    let (Notice { number, from, to, .. }, say) = (notice, &furniture.words.notices);
    let day = notice.done.as_deref().unwrap_or_default();
    let class = furniture.figures().notice_class(notice.class);
    flow.heading(&say.heading_done(number, class, from, to, day));
    for line in lines(&notice.text) {
        flow.paragraph(&line);
    }
    if notice.is_stopped {
        flow.paragraph(&say.stop_the_parts(to));
    }
    let revision = &furniture.issue.revision;
    flow.paragraph(&match (notice.is_in_pack, notice.is_remeasured) {
        (true, true) => say.was_done_before_remeasured(revision),
        (true, false) => say.was_done_before(revision),
        (false, _) => say.was_done(revision),
    });
    if notice.is_remeasured && !notice.is_in_pack && !notice.is_stopped {
        flow.paragraph(say.remeasured());
    }
    which_counts(flow, notice, furniture);
    match &notice.work {
        Some(work) => write_changes(flow, work, furniture.content_area()),
        None => flow.paragraph(say.parts_are_unknown()),
    }
}

/// Which of two lists counts, where both name something.
fn which_counts(flow: &mut Flow, notice: &Notice, furniture: Furniture) {
    let say = &furniture.words.notices;
    let Some(since) = &furniture.issue.since else { return };
    if notice.counts() && notice.names_some_of(&since.changes) {
        flow.paragraph(say.notice_counts());
    } else if notice.names_some_of(&Counting::of(since, furniture).listed) {
        flow.paragraph(say.list_counts());
    }
}

/// Whether all parts that a notice is about stand in the pack's list of what changed.
fn is_listed(notice: &Notice, since: Option<&Since>) -> bool {
    let (Some(work), Some(since)) = (&notice.work, since) else { return false };
    let is_there = |part: &PartChange| part.kind == ChangeKind::Unchanged || since.changes.parts.contains(part);
    notice.is_in_pack && work.parts.iter().all(is_there)
}

/// Room for the day on which the work was done, and by whom.
fn sign(flow: &mut Flow, number: i64, furniture: Furniture) {
    let say = &furniture.words.notices;
    flow.need(HIGH + 8.0);
    flow.skip(2.0);
    let foot = flow.top() - HIGH;
    let mut x = furniture.content_area().x;
    for (words, width) in [(say.done_on(number), DATE), (say.done_by().to_owned(), NAME)] {
        let taken = flow.width(&words);
        flow.page().text(Text::new(words, [x, foot + 2.6]));
        let field = Area { x: x + taken + 3.0, y: foot, width, height: HIGH };
        flow.page().path(Path::rectangle(field, Pen::Thin));
        x = field.right() + 6.0;
    }
    flow.skip(HIGH + 4.0);
    flow.settle();
}

/// The lines of a text that was written with breaks, without what has no letter.
pub(in crate::pack) fn lines(text: &str) -> Vec<String> {
    text.lines().map(|line| line.replace('\t', " ").trim().to_owned()).filter(|line| !line.is_empty()).collect()
}
