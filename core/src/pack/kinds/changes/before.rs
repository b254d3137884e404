//! Which pages of the packs before a pack of what changed stay valid, and which are crossed out.
use super::Scope;
use crate::pack::layout::flow::{Column, Flow};
use crate::pack::{OnPage, SheetKind, Since};
use crate::sheets::{ChangeKind, Changes};
use crate::words::Words;
use crate::words::groups::kept_pages as words;
use serde::Serialize;

fn columns(say: &words::KeptPages) -> [Column; 3] {
    [
        Column::marks(say.head_pages(), 0.14),
        Column::words(say.head_what(), 0.26),
        Column::words(say.head_cross_out(), 0.6),
    ]
}

/// What becomes of a page.
#[derive(Debug, Clone, PartialEq, Eq)]
enum Verdict {
    Keep,
    /// Kept but for what is crossed out.
    Part(String),
    Void,
}

/// What becomes of the pages of a pack before.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct KeptPages {
    /// Number of that pack.
    pub pack: String,
    /// Numbers of its pages that stay valid whole.
    pub whole: Vec<usize>,
    /// Its pages that stay valid but for what is crossed out on them.
    pub in_part: Vec<KeptInPart>,
    /// Numbers of its pages that are crossed out whole.
    pub void: Vec<usize>,
}

/// Pages that stay valid in part.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct KeptInPart {
    /// Their numbers.
    pub pages: Vec<usize>,
    /// Their title.
    pub title: String,
    /// What is crossed out on them, as the pack of what changed says it.
    pub cross_out: String,
}

/// What becomes of the pages of the packs before, pack by pack; none where they are not known.
pub(in crate::pack) fn kept(since: &Since, words: &Words) -> Vec<KeptPages> {
    let of_packs = since.pages.chunk_by(|page, next| page.pack == next.pack);
    let packs = of_packs.filter_map(|pages| {
        let pack = pages.first()?.pack.clone();
        let outdated = since.outdated(&pack);
        let rules = Rules::of(&outdated, words);
        let mut of = KeptPages { pack, whole: Vec::new(), in_part: Vec::new(), void: Vec::new() };
        for page in pages {
            match rules.verdict(&page.holds, &page.replaced) {
                Verdict::Keep => of.whole.push(page.page),
                Verdict::Void => of.void.push(page.page),
                Verdict::Part(cross_out) => match of.in_part.last_mut() {
                    Some(known) if known.title == page.title => known.pages.push(page.page),
                    _ => of.in_part.push(KeptInPart { pages: vec![page.page], title: page.title.clone(), cross_out }),
                },
            }
        }
        Some(of)
    });
    packs.collect()
}

/// Writes them, pack by pack, by page numbers; by what they are where the pages of the pack before are not known.
pub(super) fn write(flow: &mut Flow, since: &Since, words: &Words) {
    let kept = kept(since, words);
    for pack in &kept {
        of_pack(flow, pack, &words.kept_pages);
    }
    if kept.is_empty() {
        by_kind(flow, &Rules::of(&since.outdated(&since.pack_number), words));
    }
}

fn of_pack(flow: &mut Flow, kept: &KeptPages, say: &words::KeptPages) {
    flow.heading(&say.heading(&kept.pack));
    let numbered =
        |pages: &[usize]| if pages.is_empty() { say.no_pages().to_owned() } else { say.pages(ranges(pages, say)) };
    flow.fact(say.keep_whole(), &numbered(&kept.whole));
    flow.fact(say.cross_out_whole(), &numbered(&kept.void));
    if kept.in_part.is_empty() {
        return;
    }
    flow.paragraph(say.in_part());
    flow.start_table(&columns(say));
    for KeptInPart { pages, title, cross_out } in &kept.in_part {
        flow.row(&[ranges(pages, say), title.clone(), cross_out.clone()], "");
    }
    flow.end_table();
}

/// The same where no page numbers are known.
fn by_kind(flow: &mut Flow, rules: &Rules) {
    let say = &rules.words.kept_pages;
    flow.heading(say.heading_by_kind());
    let voided = rules.marks(|mark, _| rules.scope.voids(mark));
    let sheets = rules.marks(|mark, _| rules.scope.voids_sheets(mark));
    let placed = rules.marks(|mark, kind| kind != ChangeKind::Unchanged || rules.scope.voids_sheets(mark));
    flow.fact(say.keep(), say.sheets_but_for());
    let of = |marks: &[&str], some: &dyn Fn(String) -> String, none: &str| {
        if marks.is_empty() { none.to_owned() } else { some(marks.join(", ")) }
    };
    flow.fact(say.cross_out(), &of(&sheets, &|parts| say.sheets_of(parts), say.sheets_of_none()));
    flow.fact(say.cross_out(), &of(&voided, &|parts| say.plates_of(parts), say.plates_of_none()));
    flow.fact(say.cross_out(), &of(&placed, &|parts| say.jig_sheets_of(parts), say.jig_sheets_of_none()));
    for (list, caption) in [
        (List::Parts, say.parts_list()),
        (List::Pairs, say.pairs()),
        (List::CutSheet, say.cut_sheet()),
        (List::FitUp, say.fit_up()),
        (List::Checks, say.checks()),
    ] {
        if let Verdict::Part(what) = rules.list(list) {
            flow.fact(caption, &say.keep_it_but(what));
        }
    }
    flow.fact(say.cross_out(), say.other_pages());
}

/// The lists that are kept in part.
#[derive(Clone, Copy)]
enum List {
    Parts,
    Pairs,
    CutSheet,
    FitUp,
    Checks,
}

struct Rules<'a> {
    scope: Scope<'a>,
    changes: &'a Changes,
    words: &'a Words,
}

impl<'a> Rules<'a> {
    fn of(changes: &'a Changes, words: &'a Words) -> Self {
        Self { scope: Scope::of_changes(changes), changes, words }
    }

    fn verdict(&self, holds: &[OnPage], replaced: &[OnPage]) -> Verdict {
        let verdict = |on: &OnPage| if replaced.contains(on) { Verdict::Void } else { self.of_sheet(on) };
        let sheets: Vec<(&OnPage, Verdict)> = holds.iter().map(|on| (on, verdict(on))).collect();
        match sheets.first() {
            None => return Verdict::Void,
            Some((_, first)) if sheets.iter().all(|(_, other)| other == first) => return first.clone(),
            Some(_) => {}
        }
        let crossed = sheets.into_iter().filter_map(|(on, verdict)| match verdict {
            Verdict::Keep => None,
            Verdict::Part(what) => Some(self.words.kept_pages.on(what, &on.title)),
            Verdict::Void => Some(on.title.clone()),
        });
        Verdict::Part(crossed.collect::<Vec<_>>().join("; "))
    }

    /// What becomes of one of the sheets on a page.
    fn of_sheet(&self, on: &OnPage) -> Verdict {
        let keeps_unless = |is_void: &dyn Fn(&str) -> bool| {
            if on.parts.iter().any(|mark| is_void(mark)) { Verdict::Void } else { Verdict::Keep }
        };
        match on.kind {
            SheetKind::Wrap | SheetKind::HoleStrip | SheetKind::BendSheet => {
                keeps_unless(&|mark| self.scope.voids_sheets(mark))
            }
            SheetKind::JigSheet => keeps_unless(&|mark| self.scope.voids_sheets(mark) || self.scope.places(mark)),
            SheetKind::Plate => {
                let (gone, kept): (Vec<&String>, Vec<&String>) =
                    on.parts.iter().partition(|mark| self.scope.voids(mark));
                match (gone.is_empty(), kept.is_empty()) {
                    (true, _) => Verdict::Keep,
                    (_, true) => Verdict::Void,
                    _ => Verdict::Part(
                        self.words
                            .kept_pages
                            .marks(gone.iter().map(|mark| mark.as_str()).collect::<Vec<_>>().join(", ")),
                    ),
                }
            }
            SheetKind::PartsList => self.list(List::Parts),
            SheetKind::Pairs => self.list(List::Pairs),
            SheetKind::CutSheet => self.list(List::CutSheet),
            SheetKind::FitUp => self.list(List::FitUp),
            SheetKind::Checks => self.list(List::Checks),
            // What no rule keeps is crossed out.
            _ => Verdict::Void,
        }
    }

    fn list(&self, list: List) -> Verdict {
        let say = &self.words.kept_pages;
        let marks = self.marks(|mark, _| self.scope.voids(mark));
        let but_for = |marks: Vec<&str>, some: &dyn Fn(String) -> String| {
            if marks.is_empty() { Verdict::Keep } else { Verdict::Part(some(marks.join(", "))) }
        };
        match list {
            List::CutSheet => {
                but_for(self.marks(|mark, _| self.scope.voids_sheets(mark)), &|parts| say.rows_of_cut_sheet(parts))
            }
            List::Pairs => {
                let handed = marks.into_iter().filter(|mark| mark.ends_with(".L") || mark.ends_with(".R"));
                but_for(handed.collect(), &|parts| say.rows(parts))
            }
            List::Parts => but_for(marks, &|parts| say.places(parts)),
            List::FitUp if self.changes.renumbers_steps() => Verdict::Void,
            List::FitUp => {
                let gone = self.changes.order.iter().filter(|step| !step.same).filter_map(|step| step.old);
                let mut gone: Vec<usize> = gone.collect();
                gone.sort_unstable();
                if gone.is_empty() { Verdict::Keep } else { Verdict::Part(say.steps(ranges(&gone, say))) }
            }
            List::Checks => match self.changes.checks.iter().filter(|check| check.old.is_some()).count() {
                0 => Verdict::Keep,
                gone => Verdict::Part(say.check_dimensions(gone, gone)),
            },
        }
    }

    /// Marks of some of the parts that were there before.
    fn marks(&self, is_wanted: impl Fn(&str, ChangeKind) -> bool) -> Vec<&str> {
        let there = self.changes.parts.iter().filter(|part| part.kind != ChangeKind::Added);
        let wanted = there.filter(|part| is_wanted(&part.member, part.kind));
        wanted.map(|part| part.member.as_str()).collect()
    }
}

/// Numbers in rising order as they are said, such as `1 to 4, 7, 9, 10`.
fn ranges(numbers: &[usize], say: &words::KeptPages) -> String {
    let mut runs: Vec<[usize; 2]> = Vec::new();
    for &number in numbers {
        match runs.last_mut() {
            Some([_, last]) if *last + 1 == number => *last = number,
            _ => runs.push([number, number]),
        }
    }
    let said = runs.into_iter().map(|[first, last]| match last - first {
        0 => first.to_string(),
        1 => format!("{first}, {last}"),
        _ => say.range(first, last),
    });
    said.collect::<Vec<_>>().join(", ")
}
