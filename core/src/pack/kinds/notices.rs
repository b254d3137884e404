//! Notices to the holder of the kit: those that are not done yet, with the rework of each, and those done whose change the pack does not
//! have.

use super::changes::write_changes;
use super::cover::contents_of;
use crate::drawing::{Area, Path, Pen, Text};
use crate::pack::layout::flow::Flow;
use crate::pack::layout::furniture::Furniture;
use crate::pack::{Content, Notice, RenderError, Since};
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
    let mut flow = Flow::new(furniture, furniture.content_area(), "Notices");
    let (open, done): (Vec<&Notice>, Vec<&Notice>) = notices.iter().partition(|notice| notice.done.is_none());
    if !open.is_empty() {
        flow.paragraph(
            "What the supplier has told the holders of kits like this one, and what was not reported as done when this pack was issued. Read each before you cut anything. When its work is done, sign it here and report it on the page of your kit, or to the supplier.",
        );
    }
    for notice in open {
        write(&mut flow, notice, sheets, furniture);
    }
    for notice in done {
        write_done(&mut flow, notice, furniture);
    }
    Ok(contents_of(flow, "Notices"))
}

fn write(flow: &mut Flow, notice: &Notice, sheets: &Sheets, furniture: Furniture) {
    let Notice { number, class, date, from, to, .. } = notice;
    flow.heading(&format!("Notice {number}, {class}, {date}: revision {from} to {to}"));
    for line in lines(&notice.text) {
        flow.paragraph(&line);
    }
    if notice.is_stopped {
        flow.paragraph(&format!(
            "Stop: revision {to}, which has the change, was recalled since. Do none of the work of this notice, and make none of the parts that it changes, old or new, until the supplier says how."
        ));
        return;
    }
    let revision = &furniture.issue.revision;
    let is_listed = is_listed(notice, furniture.issue.since.as_ref());
    match &notice.work {
        Some(_) if is_listed => flow.paragraph("Its work is in the list of what changed, the pages after these."),
        None => flow.paragraph("What is to be done to this kit could not be worked out: ask the supplier before you cut."),
        Some(_) if notice.is_in_pack => flow.paragraph(&format!(
            "This pack is of revision {revision}, which has the change. The wraps named below are in this pack, or in the kit's first pack of this revision.",
        )),
        Some(_) => flow.paragraph(&format!(
            "This pack is of revision {revision}, from before the change. Make none of the parts listed below from its pages. The wraps named are those of revision {to}: they are in the pages of this notice, which are on the page of your kit, and which the supplier sends you.",
        )),
    }
    if let Some(work) = notice.work.as_ref().filter(|_| !is_listed) {
        if !sheets.measured.is_empty() {
            flow.paragraph(if furniture.issue.since.is_some() {
                "This kit has measured values, and the list below is worked out for the frame as designed. For every part that the list of what changed names too, that list counts, and not this one: read it first."
            } else {
                "This kit has measured values, and the list below is worked out for the frame as designed: ask the supplier before you cut or scrap a part by it."
            });
        }
        write_changes(flow, work, furniture.content_area());
    }
    sign(flow, *number, furniture.content_area());
}

fn write_done(flow: &mut Flow, notice: &Notice, furniture: Furniture) {
    let Notice { number, class, from, to, .. } = notice;
    let day = notice.done.as_deref().unwrap_or_default();
    flow.heading(&format!("Notice {number}, {class}: revision {from} to {to}, done on {day}"));
    for line in lines(&notice.text) {
        flow.paragraph(&line);
    }
    if notice.is_stopped {
        flow.paragraph(&format!(
            "Stop: revision {to}, from which its parts were made, was recalled since. Use none of them, and make none anew, until the supplier says how."
        ));
    }
    flow.paragraph(&format!(
        "This was reported as done. This pack is of revision {}, from before the change: the parts listed below are those of the pages of the notice now. Cross out their templates in this pack, and make none of them from it.",
        furniture.issue.revision
    ));
    match &notice.work {
        Some(work) => write_changes(flow, work, furniture.content_area()),
        None => flow.paragraph("Which parts these are could not be worked out: ask the supplier before you cut."),
    }
}

/// Whether all parts that a notice is about stand in the pack's list of what changed.
fn is_listed(notice: &Notice, since: Option<&Since>) -> bool {
    let (Some(work), Some(since)) = (&notice.work, since) else { return false };
    let is_there = |part: &PartChange| part.kind == ChangeKind::Unchanged || since.changes.parts.contains(part);
    notice.is_in_pack && work.parts.iter().all(is_there)
}

/// Room for the day on which the work was done, and by whom.
fn sign(flow: &mut Flow, number: i64, area: Area) {
    flow.need(HIGH + 8.0);
    flow.skip(2.0);
    let foot = flow.top() - HIGH;
    let mut x = area.x;
    for (words, width) in [(format!("Notice {number} done on"), DATE), ("by".to_owned(), NAME)] {
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
