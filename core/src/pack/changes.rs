//! What changed since the pack before: parts to rework with what to trim, parts to replace, and all else.

use super::cover::contents_of;
use super::figures::{Figures, end_name};
use super::flow::{Column, Flow};
use super::furniture::Furniture;
use super::{Content, RenderError, Since};
use crate::sheets::{ChangeKind, Changes, PartChange, Sheets, TrimRow};
use std::collections::HashSet;

const COLUMNS: [Column; 4] = [
    Column::marks("mark", 0.22),
    Column::words("part before", 0.16),
    Column::words("part now", 0.16),
    Column::words("what to do", 0.46),
];

const CHECKS: [Column; 3] =
    [Column::marks("dimension", 0.64), Column::figures("before, mm", 0.18), Column::figures("now, mm", 0.18)];

/// Height that a heading, the words under it and the first row of its table take together at most in common cases, mm.
const KEPT: f64 = 52.0;

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
pub(super) fn pages(_: &Sheets, furniture: Furniture) -> Result<Vec<Content>, RenderError> {
    let Some(since) = &furniture.issue.since else {
        return Ok(Vec::new());
    };
    let mut flow = Flow::new(furniture, furniture.content_area(), "What changed");
    flow.paragraph(&heading(since, &furniture.issue.revision));
    if since.changes.is_empty() {
        flow.paragraph("Nothing changed: every part, check dimension and step is as before.");
    }
    for (kind, title, words) in GROUPS {
        let rows: Vec<&PartChange> = since.changes.parts.iter().filter(|part| part.kind == kind).collect();
        if rows.is_empty() {
            continue;
        }
        flow.need(KEPT);
        flow.heading(&format!("{title} ({})", rows.len()));
        flow.paragraph(words);
        flow.start_table(&COLUMNS);
        for part in rows {
            write_row(&mut flow, part);
        }
        flow.end_table();
    }
    let same = since.changes.parts.iter().filter(|part| part.kind == ChangeKind::Unchanged).count();
    flow.paragraph(&format!("{same} parts are unchanged and stay where they are."));
    other_changes(&mut flow, &since.changes);
    Ok(contents_of(flow, "What changed"))
}

fn heading(since: &Since, revision: &str) -> String {
    let before = match since.pack_number.as_str() {
        "" => format!("revision {}", since.revision),
        pack => format!("revision {} (pack {pack})", since.revision),
    };
    let scope = if since.only {
        "This pack holds only the pages of what changed. It goes with the pack before; where both have a page for the same part and end, the one before is void: cross it out."
    } else {
        "This pack replaces the one before as a whole. Do not mix their pages: cross out or destroy the old ones."
    };
    format!("From {before} to revision {revision}. {scope}")
}

fn write_row(flow: &mut Flow, part: &PartChange) {
    let number = |number: &Option<String>| number.clone().unwrap_or_else(|| "none".to_owned());
    let mut notes: Vec<String> = part.trims.iter().map(|trim| trim_words(trim, &part.member, flow.figures())).collect();
    if !part.drill.is_empty() {
        notes.push(format!("drill: {}", part.drill.join(", ")));
    }
    let cells =
        [part.member.clone(), number(&part.old_number), number(&part.new_number), flow.figures().sentence(&part.words)];
    flow.row(&cells, &notes.join("\n"));
}

fn trim_words(trim: &TrimRow, member: &str, figures: Figures) -> String {
    let (end, old_end) = (end_name(trim.end), end_name(trim.old_end));
    let turned =
        if trim.end == trim.old_end { String::new() } else { format!(", which is the {old_end} end of the old part") };
    let how_much = if trim.most - trim.least < 0.05 {
        format!("{} all round", figures.length(trim.most))
    } else {
        format!("{} to {} round the tube", figures.bare(trim.least), figures.length(trim.most))
    };
    let by = if trim.wrap {
        format!("mark it with wrap {member}, {end} end")
    } else {
        "a square cut: measure it".to_owned()
    };
    format!("trim the {end} end{turned}: {how_much}; {by}")
}

fn other_changes(flow: &mut Flow, changes: &Changes) {
    let figures = flow.figures();
    if !changes.checks.is_empty() {
        flow.need(KEPT);
        flow.heading("Check dimensions");
        flow.start_table(&CHECKS);
        let value = |value: Option<f64>| value.map_or("none".to_owned(), |mm| figures.short(mm));
        for check in &changes.checks {
            flow.row(&[check.name.clone(), value(check.old), value(check.new)], "");
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

/// The sheets of the parts that are to be made or reworked, for a pack that goes with the one before.
pub(super) fn changed_only(sheets: &Sheets, changes: &Changes) -> Sheets {
    let is_made = |kind: ChangeKind| matches!(kind, ChangeKind::Rework | ChangeKind::Replace | ChangeKind::Added);
    let made: HashSet<&str> =
        changes.parts.iter().filter(|part| is_made(part.kind)).map(|part| part.member.as_str()).collect();
    let moved = |part: &&PartChange| part.kind == ChangeKind::Moved;
    let shown: HashSet<&str> =
        changes.parts.iter().filter(moved).map(|part| part.member.as_str()).chain(made.iter().copied()).collect();
    let checks: HashSet<&str> = changes.checks.iter().map(|check| check.name.as_str()).collect();
    let mut only = sheets.clone();
    only.parts.retain(|part| part.members.iter().any(|member| made.contains(member.as_str())));
    only.pairs.retain(|pair| made.contains(pair.left.as_str()) || made.contains(pair.right.as_str()));
    only.cut_sheet.rows.retain(|row| made.contains(row.member.as_str()));
    only.cut_sheet.total_mass_kg = only.cut_sheet.rows.iter().map(|row| row.mass_kg).sum();
    only.wraps.retain(|wrap| made.contains(wrap.member.as_str()));
    only.bend_sheets.retain(|sheet| made.contains(sheet.member.as_str()));
    only.jigs.retain(|sheet| shown.contains(sheet.member.as_str()));
    only.plates.retain(|plate| made.contains(plate.plate.as_str()));
    only.strips.retain(|strip| made.contains(strip.member.as_str()));
    only.checks.retain(|check| checks.contains(check.name.as_str()));
    only.mass.joints.clear();
    only.stock.clear();
    only.fit_up.steps.retain(|step| shown.contains(step.member.as_str()));
    only
}
