//! What changed since the pack before: parts to rework with what to trim, parts to replace, and all else.

mod before;
mod left;
mod rework;
mod scope;

use super::cover::contents_of;
use super::cut_sheet::has_measured;
use crate::drawing::{Area, Path, Pen};
use crate::pack::layout::counting::Counting;
use crate::pack::layout::figures::Figures;
use crate::pack::layout::flow::{Column, Flow};
use crate::pack::layout::furniture::Furniture;
use crate::pack::layout::step_names::StepNames;
use crate::pack::{Content, OnPage, RenderError, SheetKind, Since};
use crate::sheets::{ChangeKind, Changes, PartChange, Sheets};
use crate::words::groups::changes as words;
pub(in crate::pack) use before::kept;
pub use before::{KeptInPart, KeptPages};
use rework::what_to_do;
pub(in crate::pack) use scope::{Scope, changed_only};

fn columns(say: &words::Changes) -> [Column; 5] {
    [
        Column::marks(say.head_mark(), 0.22),
        Column::numbers(say.head_before(), 0.12),
        Column::numbers(say.head_now(), 0.12),
        Column::words(say.head_what_to_do(), 0.48),
        Column::words(say.head_done(), 0.06),
    ]
}

fn checks(figures: Figures) -> [Column; 3] {
    let (say, unit) = (&figures.words.changes, figures.unit());
    [
        Column::words(say.head_dimension(), 0.64),
        Column::figures(say.head_value_before(unit), 0.18),
        Column::figures(say.head_value_now(unit), 0.18),
    ]
}

/// Side of a box to tick, mm.
const BOX: f64 = 4.0;

/// Kinds of change that a builder must act on or know of, in the order of the page.
const KINDS: [ChangeKind; 5] =
    [ChangeKind::Rework, ChangeKind::Replace, ChangeKind::Added, ChangeKind::Removed, ChangeKind::Moved];

/// The page of changes; none when the kit had no pack before.
pub(in crate::pack) fn pages(sheets: &Sheets, furniture: Furniture) -> Result<Vec<Content>, RenderError> {
    let Some(since) = &furniture.issue.since else {
        return Ok(Vec::new());
    };
    let (title, say) = (furniture.words.kinds.changes(), &furniture.words.changes);
    let mut flow = Flow::new(furniture, furniture.content_area(), title);
    flow.paragraph(&heading(since, &furniture.issue.revision, say));
    if let Some(day) = furniture.issue.notice_done() {
        flow.paragraph(&say.done_already(day));
    }
    if since.changes.is_empty() {
        flow.paragraph(say.nothing());
    }
    match &since.moved_to {
        _ if !since.only => {}
        Some(revision) => flow.paragraph(&say.kit_has_moved(revision)),
        None => {
            first_of_all(&mut flow, since, &furniture.issue.revision, say);
            before::write(&mut flow, since, furniture.words);
            for (pack, stale) in &since.stale {
                write_stale(&mut flow, pack, stale, sheets);
            }
        }
    }
    retold(&mut flow, since, furniture);
    if has_measured(sheets) {
        flow.paragraph(say.as_measured());
    }
    let counting = Counting::of(since, furniture);
    for notice in &counting.over {
        flow.paragraph(&say.counts_for_notice(*notice));
    }
    left::write(&mut flow, &counting);
    write_changes(&mut flow, &counting.listed, furniture.content_area());
    let same = counting.listed.parts.iter().filter(|part| part.kind == ChangeKind::Unchanged).count();
    if same > 0 {
        flow.paragraph(&say.unchanged(same));
    }
    Ok(contents_of(flow, OnPage::of_frame(SheetKind::Changes, title)))
}

/// Parts of a pack before that measured values changed and that are to be made from a new pack.
fn write_stale(flow: &mut Flow, pack: &str, stale: &Changes, sheets: &Sheets) {
    let is_made = |part: &&PartChange| {
        matches!(part.kind, ChangeKind::Rework | ChangeKind::Replace | ChangeKind::Added)
            && !sheets.stands(&part.member)
    };
    let parts: Vec<&str> = stale.parts.iter().filter(is_made).map(|part| part.member.as_str()).collect();
    if !parts.is_empty() {
        let say = &flow.figures().words.changes;
        flow.paragraph(&say.stale(pack, parts.join(", ")));
    }
}

/// What is done before any page is used, in its order: a tick on a page that is crossed out first is lost.
fn first_of_all(flow: &mut Flow, since: &Since, revision: &str, say: &words::Changes) {
    let carry_over = since.changes.renumbers_steps().then(|| say.carry_over(revision));
    let steps = carry_over.into_iter().chain([say.cross_out().to_owned(), say.put_together().to_owned()]);
    for (number, step) in (1..).zip(steps) {
        flow.marked(&format!("{number}."), &step);
    }
}

/// The parts that are as before and are trimmed at another step, of which a pack of what changed has the sheets anew.
fn retold(flow: &mut Flow, since: &Since, furniture: Furniture) {
    let (names, say) = (StepNames::of(furniture), &furniture.words.changes);
    let scope = Scope::of_changes(&since.changes);
    let trims: Vec<String> = since
        .changes
        .trim_steps
        .iter()
        .filter(|trim| scope.retells(&trim.member))
        .map(|trim| {
            let (end, new) = (furniture.figures().end(trim.end), names.name(trim.new));
            say.trim_step(&trim.member, end, trim.old, new)
        })
        .collect();
    if !since.only || trims.is_empty() {
        return;
    }
    flow.heading(&say.trimmed_elsewhere(trims.len()));
    flow.paragraph(say.how_trimmed_elsewhere());
    for trim in &trims {
        flow.paragraph(trim);
    }
}

/// What changed, kind by kind: parts, check dimensions, things to do.
pub(in crate::pack) fn write_changes(flow: &mut Flow, changes: &Changes, area: Area) {
    let say = &flow.figures().words.changes;
    for kind in KINDS {
        let rows: Vec<&PartChange> = changes.parts.iter().filter(|part| part.kind == kind).collect();
        let count = rows.len();
        let (title, how) = match kind {
            _ if rows.is_empty() => continue,
            ChangeKind::Unchanged => continue,
            ChangeKind::Rework => (say.rework(count), say.how_to_rework()),
            ChangeKind::Replace => (say.replace(count), say.how_to_replace()),
            ChangeKind::Added => (say.added(count), say.how_to_add()),
            ChangeKind::Removed => (say.removed(count), say.how_to_remove()),
            ChangeKind::Moved => (say.moved(count), say.how_to_move()),
        };
        flow.heading(&title);
        flow.paragraph(how);
        flow.start_table(&columns(say));
        for part in rows {
            write_row(flow, part, area);
        }
        flow.end_table();
    }
    other_changes(flow, changes);
}

/// How many parts there are of each kind that a builder must act on or know of, in one line.
pub(in crate::pack) fn counts(counting: &Counting, say: &words::Changes) -> String {
    let count = |kind: ChangeKind| counting.listed.parts.iter().filter(|part| part.kind == kind).count();
    let said = KINDS.into_iter().map(|kind| (kind, count(kind))).filter_map(|(kind, count)| match kind {
        _ if count == 0 => None,
        ChangeKind::Unchanged => None,
        ChangeKind::Rework => Some(say.count_to_rework(count)),
        ChangeKind::Replace => Some(say.count_to_replace(count)),
        ChangeKind::Added => Some(say.count_new(count)),
        ChangeKind::Removed => Some(say.count_left_out(count)),
        ChangeKind::Moved => Some(say.count_moved(count)),
    });
    let left = Some(counting.parts_left()).filter(|count| *count > 0).map(|count| say.count_left(count));
    let said: Vec<String> = said.chain(left).collect();
    if said.is_empty() { say.no_part().to_owned() } else { say.parts(said.join(", ")) }
}

fn heading(since: &Since, revision: &str, say: &words::Changes) -> String {
    let from = match since.pack_number.as_str() {
        "" => say.since_revision(&since.revision, revision),
        pack => say.since_pack(&since.revision, pack, revision),
    };
    format!("{from} {}", if since.only { say.only_changes() } else { say.replaces_all() })
}

fn write_row(flow: &mut Flow, part: &PartChange, area: Area) {
    let figures = flow.figures();
    let number = |number: &Option<String>| number.clone().unwrap_or_else(|| figures.words.changes.none().to_owned());
    let cells = [part.member.clone(), number(&part.old_number), number(&part.new_number), what_to_do(part, figures)];
    let height = flow.row(&cells, "");
    let y = flow.top() + (height - BOX) / 2.0;
    let done = Area { x: area.right() - 0.06 * area.width, y, width: BOX, height: BOX };
    flow.page().path(Path::rectangle(done, Pen::Thin));
}

fn other_changes(flow: &mut Flow, changes: &Changes) {
    let figures = flow.figures();
    let say = &figures.words.changes;
    if !changes.checks.is_empty() {
        flow.heading(say.heading_checks());
        flow.start_table(&checks(figures));
        let value = |value: Option<f64>| value.map_or_else(|| say.none().to_owned(), |mm| figures.short(mm));
        for check in &changes.checks {
            let what = Some(figures.check_change(check)).filter(|what| !what.is_empty());
            flow.row(&[what.unwrap_or_else(|| check.name.clone()), value(check.old), value(check.new)], "");
        }
        flow.end_table();
    }
    if !changes.steps.is_empty() {
        flow.heading(say.heading_work());
        for step in &changes.steps {
            let said = if step.added {
                say.work_new(&step.after, &step.what)
            } else {
                say.work_left_out(&step.after, &step.what)
            };
            flow.paragraph(&said);
        }
    }
}
