//! What changed since the pack before: parts to rework with what to trim, parts to replace, and all else.

mod before;
mod scope;

use super::cover::contents_of;
use crate::drawing::{Area, Path, Pen};
use crate::pack::layout::figures::{Figures, other_end};
use crate::pack::layout::flow::{Column, Flow};
use crate::pack::layout::furniture::Furniture;
use crate::pack::layout::step_names::StepNames;
use crate::pack::{Content, RenderError, Since};
use crate::sheets::{ChangeKind, Changes, PartChange, Sheets, TrimRow, TrimSetOut};
pub(in crate::pack) use before::kept;
pub use before::{KeptInPart, KeptPages};
pub(in crate::pack) use scope::{Scope, changed_only};

fn columns() -> [Column; 5] {
    [
        Column::marks("mark", 0.22),
        Column::numbers("part before", 0.12),
        Column::numbers("part now", 0.12),
        Column::words("what to do", 0.48),
        Column::words("done", 0.06),
    ]
}

fn checks() -> [Column; 3] {
    [Column::words("dimension", 0.64), Column::figures("before, mm", 0.18), Column::figures("now, mm", 0.18)]
}

/// What no tape shows, mm.
const UNSEEN: f64 = 0.05;

/// Side of a box to tick, mm.
const BOX: f64 = 4.0;

/// Kinds of change that a builder must act on or know of, in the order of the page.
const GROUPS: [(ChangeKind, &str, &str); 5] = [
    (
        ChangeKind::Rework,
        "Rework: the part that you have can be made into the new one",
        "Lay the wrap named on the part, mark, cut, and mark the part with its new number. Compare it with the new cut sheet before it goes into the frame.",
    ),
    (
        ChangeKind::Replace,
        "Replace: the part that you have cannot serve",
        "Do not fit the old part. Mark it as scrap, so that nobody else does.",
    ),
    (ChangeKind::Added, "New parts", "These are in no pack before this one."),
    (ChangeKind::Removed, "Parts left out", "These are no longer part of the frame."),
    (
        ChangeKind::Moved,
        "Same part, other place",
        "Nothing is cut. The part goes where the new fit-up order says, and the joints near it change with it.",
    ),
];

/// The page of changes; none when the kit had no pack before.
pub(in crate::pack) fn pages(_: &Sheets, furniture: Furniture) -> Result<Vec<Content>, RenderError> {
    let Some(since) = &furniture.issue.since else {
        return Ok(Vec::new());
    };
    let mut flow = Flow::new(furniture, furniture.content_area(), "What changed");
    flow.paragraph(&heading(since, &furniture.issue.revision));
    if since.changes.is_empty() {
        flow.paragraph("Nothing changed: every part, check dimension and step is as before.");
    }
    if since.only {
        first_of_all(&mut flow, since, &furniture.issue.revision);
        before::write(&mut flow, since);
    }
    retold(&mut flow, since, furniture);
    write_changes(&mut flow, &since.changes, furniture.content_area());
    let same = since.changes.parts.iter().filter(|part| part.kind == ChangeKind::Unchanged).count();
    flow.paragraph(&format!("All other parts, {same} of them, are unchanged and stay where they are."));
    Ok(contents_of(flow, "What changed"))
}

/// What is done before any page is used, in its order: a tick on a page that is crossed out first is lost.
fn first_of_all(flow: &mut Flow, since: &Since, revision: &str) {
    let mut steps = Vec::new();
    if since.changes.renumbers_steps() {
        steps.push(format!("The steps of the fit-up order have other numbers in revision {revision}: the whole order is in this pack, and behind each step stands its number before. From the order before carry over what you ticked, but for steps that are marked as changed."));
    }
    steps.push(
        "In the pages before cross out the pages and rows that are named below. All others stay valid.".to_owned(),
    );
    steps.push("Put both packs together. What to make and what to do is listed after that.".to_owned());
    for (number, step) in (1..).zip(&steps) {
        flow.marked(&format!("{number}."), step);
    }
}

/// The parts that are as before and are trimmed at another step, of which a pack of what changed has the sheets anew.
fn retold(flow: &mut Flow, since: &Since, furniture: Furniture) {
    let names = StepNames::of(furniture);
    let scope = Scope::of_changes(&since.changes);
    let trims: Vec<String> = since
        .changes
        .trim_steps
        .iter()
        .filter(|trim| scope.retells(&trim.member))
        .map(|trim| {
            let (end, new) = (furniture.figures().end(trim.end), names.name(trim.new));
            format!("{}, {end} end: step {} is step {new} now", trim.member, trim.old)
        })
        .collect();
    if !since.only || trims.is_empty() {
        return;
    }
    flow.heading(&format!("Same part, trimmed at another step ({})", trims.len()));
    flow.paragraph(
        "Nothing is made anew. Their sheets are in this pack because those before name a step that is another now: cut no end by the old ones.",
    );
    for trim in &trims {
        flow.paragraph(trim);
    }
}

/// What changed, kind by kind: parts, check dimensions, things to do.
pub(in crate::pack) fn write_changes(flow: &mut Flow, changes: &Changes, area: Area) {
    for (kind, title, words) in GROUPS {
        let rows: Vec<&PartChange> = changes.parts.iter().filter(|part| part.kind == kind).collect();
        if rows.is_empty() {
            continue;
        }
        flow.heading(&format!("{title} ({})", rows.len()));
        flow.paragraph(words);
        flow.start_table(&columns());
        for part in rows {
            write_row(flow, part, area);
        }
        flow.end_table();
    }
    other_changes(flow, changes);
}

/// How many parts there are of each kind that a builder must act on or know of, in one line.
pub(in crate::pack) fn counts(changes: &Changes) -> String {
    let words = [
        (ChangeKind::Rework, "to rework"),
        (ChangeKind::Replace, "to replace"),
        (ChangeKind::Added, "new"),
        (ChangeKind::Removed, "left out"),
        (ChangeKind::Moved, "in another place"),
    ];
    let count = |kind: ChangeKind| changes.parts.iter().filter(|part| part.kind == kind).count();
    let said: Vec<String> = words
        .into_iter()
        .map(|(kind, words)| (count(kind), words))
        .filter(|(count, _)| *count > 0)
        .map(|(count, words)| format!("{count} {words}"))
        .collect();
    if said.is_empty() { "no part".to_owned() } else { format!("parts: {}", said.join(", ")) }
}

fn heading(since: &Since, revision: &str) -> String {
    let before = match since.pack_number.as_str() {
        "" => format!("revision {}", since.revision),
        pack => format!("revision {} (pack {pack})", since.revision),
    };
    let scope = if since.only {
        "This pack holds only what changed. Before you use any page of it, or of the pack before, do in this order what stands here."
    } else {
        "This pack replaces the one before as a whole. Do not mix their pages: cross out or destroy the old ones."
    };
    format!("From {before} to revision {revision}. {scope}")
}

fn write_row(flow: &mut Flow, part: &PartChange, area: Area) {
    let number = |number: &Option<String>| number.clone().unwrap_or_else(|| "none".to_owned());
    let cells =
        [part.member.clone(), number(&part.old_number), number(&part.new_number), what_to_do(part, flow.figures())];
    let height = flow.row(&cells, "");
    let y = flow.top() + (height - BOX) / 2.0;
    let done = Area { x: area.right() - 0.06 * area.width, y, width: BOX, height: BOX };
    flow.page().path(Path::rectangle(done, Pen::Thin));
}

/// Every cut and hole that makes the old part into the new one; else why there is none.
fn what_to_do(part: &PartChange, figures: Figures) -> String {
    let mut words: Vec<String> = part.trims.iter().map(|trim| trim_words(trim, part, figures)).collect();
    if part.trims.len() > 1 && part.trims.iter().any(|trim| trim.set_out.is_some()) {
        let why =
            "Trim both ends in this order and by these lengths, so that holes that are drilled keep their distances.";
        words.insert(0, why.to_owned());
    }
    if !part.drill.is_empty() {
        words.push(format!("Drill {}: mark it with the hole strip of {}.", part.drill.join(", "), part.member));
    }
    if words.is_empty() { figures.part_change(part) } else { words.join(" ") }
}

fn trim_words(trim: &TrimRow, part: &PartChange, figures: Figures) -> String {
    let (end, old_end) = (figures.end(trim.end), figures.end(trim.old_end));
    let turned =
        if trim.end == trim.old_end { String::new() } else { format!(", which is the {old_end} end of the old part") };
    let (least, most) = (figures.bare(trim.least), figures.length(trim.most));
    let how_much = if figures.length(trim.least) == most {
        format!("{most} all round")
    } else {
        format!("{least} to {most} round the tube")
    };
    let by = if trim.wrap {
        format!("mark it with wrap {}, {end} end", part.member)
    } else {
        "a square cut, measure it".to_owned()
    };
    let set_out =
        trim.set_out.map_or_else(String::new, |set_out| format!(" {}", set_out_words(trim, set_out, part, figures)));
    let long = figures.short_length(trim.left_long);
    if trim.while_long {
        return format!(
            "If the {end} end{turned} still has the {long} that were left long: trim it, {how_much} whatever its new sheets say: {by}, and cut no sooner than that says.{set_out} If it is trimmed already, the part is scrap: make a new one by this revision."
        );
    }
    let more = if trim.left_long > 0.0 { format!(", {long} more while it is left long") } else { String::new() };
    format!("Trim the {end} end{turned}, {how_much}{more}: {by}.{set_out}")
}

/// Where a cut is set out by how the other end is cut then: as before, anew, or as it stays.
fn set_out_words(trim: &TrimRow, set_out: TrimSetOut, part: &PartChange, figures: Figures) -> String {
    let TrimSetOut { nominal, more, from_old_cut, old_long, old_clock_deg } = set_out;
    let other_end = other_end(trim.end);
    let other = figures.end(other_end);
    // The wrap is printed with a set-out that the pack's tape can set.
    let printed = if trim.wrap { figures.taped(nominal) } else { nominal };
    let which = if trim.wrap { "set-out" } else { "length" };
    let length = figures.short_length(printed + more);
    let is_one = part.trims.len() == 1;
    let other_is_sawn = part.trims.iter().any(|trim| trim.end == other_end && trim.while_long);
    let from = match from_old_cut {
        true if other_is_sawn => format!("the sawn end at the {other} end"),
        true => format!("the long point of the {other} end's old cut"),
        false if is_one => format!("the long point of the {other} end's cut"),
        false => format!("the long point of the {other} end's new cut"),
    };
    let mut words = format!("{which} {length} from {from}");
    if more.abs() >= UNSEEN {
        let sign = if more > 0.0 { "more" } else { "less" };
        let by = figures.short_length(more.abs());
        words.push_str(&format!(
            ": {by} {sign} than the {} on its sheet, and the length to check before you cut is {by} {sign} too",
            figures.short_length(printed)
        ));
    }
    if old_long > 0.0 {
        let sawn = figures.short_length(printed + more + old_long);
        words.push_str(&format!("; if that end is still left long, {sawn} from its sawn end"));
    }
    if let Some(degrees) = old_clock_deg {
        words.push_str(&format!(
            "; the long point of that old cut lies at {}, not on the dash-dot line",
            figures.clock(degrees)
        ));
    }
    match (is_one, from_old_cut) {
        (true, _) => format!("{}{}.", words[..1].to_uppercase(), &words[1..]),
        (false, true) => format!("First: {words}."),
        (false, false) => format!("Then: {words}."),
    }
}

fn other_changes(flow: &mut Flow, changes: &Changes) {
    let figures = flow.figures();
    if !changes.checks.is_empty() {
        flow.heading("Check dimensions");
        flow.start_table(&checks());
        let value = |value: Option<f64>| value.map_or("none".to_owned(), |mm| figures.short(mm));
        for check in &changes.checks {
            let what = Some(figures.check_change(check)).filter(|what| !what.is_empty());
            flow.row(&[what.unwrap_or_else(|| check.name.clone()), value(check.old), value(check.new)], "");
        }
        flow.end_table();
    }
    if !changes.steps.is_empty() {
        flow.heading("Things to do");
        for step in &changes.steps {
            let what = if step.added { "new" } else { "left out" };
            flow.paragraph(&format!("{what}, after {}: {}", step.after, step.what));
        }
    }
}
