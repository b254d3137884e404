//! Which pages of the packs before a pack of what changed stay valid, and which are crossed out.
use super::Scope;
use crate::pack::Since;
use crate::pack::layout::flow::{Column, Flow};
use crate::sheets::{ChangeKind, Changes};
use serde::Serialize;

fn columns() -> [Column; 3] {
    [Column::marks("pages", 0.14), Column::words("what they are", 0.26), Column::words("cross out on them", 0.6)]
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
pub(in crate::pack) fn kept(since: &Since) -> Vec<KeptPages> {
    let rules = Rules::of(since);
    let mut packs: Vec<KeptPages> = Vec::new();
    for page in &since.pages {
        if packs.last().is_none_or(|last| last.pack != page.pack) {
            let pack = page.pack.clone();
            packs.push(KeptPages { pack, whole: Vec::new(), in_part: Vec::new(), void: Vec::new() });
        }
        let Some(of) = packs.last_mut() else { continue };
        match rules.verdict(&page.title) {
            Verdict::Keep => of.whole.push(page.page),
            Verdict::Void => of.void.push(page.page),
            Verdict::Part(cross_out) => match of.in_part.last_mut() {
                Some(known) if known.title == page.title => known.pages.push(page.page),
                _ => of.in_part.push(KeptInPart { pages: vec![page.page], title: page.title.clone(), cross_out }),
            },
        }
    }
    packs
}

/// Writes them, pack by pack, by page numbers; by what they are where the pages of the pack before are not known.
pub(super) fn write(flow: &mut Flow, since: &Since) {
    let kept = kept(since);
    for pack in &kept {
        of_pack(flow, pack);
    }
    if kept.is_empty() {
        by_kind(flow, &Rules::of(since));
    }
}

fn of_pack(flow: &mut Flow, kept: &KeptPages) {
    flow.heading(&format!("What stays valid of pack {}", kept.pack));
    let or_none = |pages: &[usize]| if pages.is_empty() { "none".to_owned() } else { ranges(pages) };
    flow.fact("keep, whole", &format!("pages {}", or_none(&kept.whole)));
    flow.fact("cross out, whole", &format!("pages {}", or_none(&kept.void)));
    if kept.in_part.is_empty() {
        return;
    }
    flow.paragraph("Keep these but for what is crossed out:");
    flow.start_table(&columns());
    for KeptInPart { pages, title, cross_out } in &kept.in_part {
        flow.row(&[ranges(pages), title.clone(), cross_out.clone()], "");
    }
    flow.end_table();
}

/// The same where no page numbers are known.
fn by_kind(flow: &mut Flow, rules: &Rules) {
    flow.heading("What stays valid of the pages before");
    let voided = rules.marks(|mark, _| rules.scope.voids(mark));
    let sheets = rules.marks(|mark, _| rules.scope.voids_sheets(mark));
    let placed = rules.marks(|mark, kind| kind != ChangeKind::Unchanged || rules.scope.voids_sheets(mark));
    flow.fact("keep", "wraps, plates, hole strips, bend sheets and jig sheets, but for those below");
    flow.fact("cross out", &format!("wraps, hole strips and bend sheets of {}", or_nothing(&sheets)));
    flow.fact("cross out", &format!("plates of {}", or_nothing(&voided)));
    flow.fact("cross out", &format!("jig sheets of {}", or_nothing(&placed)));
    for list in LISTS {
        if let Verdict::Part(what) = rules.list(list) {
            flow.fact(&list.to_lowercase(), &format!("keep it, but cross out {what}"));
        }
    }
    flow.fact("cross out", "all other pages");
}

/// The lists that are kept in part.
const LISTS: [&str; 5] = ["Parts list", "Left and right parts", "Cut sheet", "Fit-up order", "Check dimensions"];

struct Rules<'a> {
    scope: Scope<'a>,
    changes: &'a Changes,
}

impl<'a> Rules<'a> {
    fn of(since: &'a Since) -> Self {
        Self { scope: Scope::of_changes(&since.changes), changes: &since.changes }
    }

    fn verdict(&self, title: &str) -> Verdict {
        let parts: Vec<(&str, Verdict)> = title.split("; ").map(|part| (part, self.of_one(part))).collect();
        if let Some((_, first)) = parts.first().filter(|(_, first)| parts.iter().all(|(_, other)| other == first)) {
            return first.clone();
        }
        let crossed = parts.into_iter().filter_map(|(part, verdict)| match verdict {
            Verdict::Keep => None,
            Verdict::Part(what) => Some(format!("{what} of {part}")),
            Verdict::Void => Some(part.to_owned()),
        });
        Verdict::Part(crossed.collect::<Vec<_>>().join("; "))
    }

    /// What becomes of one of the things on a page, by its title.
    fn of_one(&self, title: &str) -> Verdict {
        let keeps = |is_void: bool| if is_void { Verdict::Void } else { Verdict::Keep };
        let mark = |rest: &str| rest.split([',', ' ']).next().unwrap_or_default().to_owned();
        if let Some(rest) = ["Wrap ", "Holes ", "Bend sheet "].iter().find_map(|kind| title.strip_prefix(kind)) {
            return keeps(self.scope.voids_sheets(&mark(rest)));
        }
        if let Some(rest) = title.strip_prefix("Jig sheet ") {
            return keeps(self.scope.voids_sheets(rest) || self.scope.places(rest));
        }
        if let Some(rest) = title.strip_prefix("Plates ").or_else(|| title.strip_prefix("Plate ")) {
            let (gone, kept): (Vec<&str>, Vec<&str>) = rest.split(", ").partition(|mark| self.scope.voids(mark));
            return match (gone.is_empty(), kept.is_empty()) {
                (true, _) => Verdict::Keep,
                (_, true) => Verdict::Void,
                _ => Verdict::Part(format!("the marks {}", gone.join(", "))),
            };
        }
        self.list(title)
    }

    fn list(&self, title: &str) -> Verdict {
        let marks = self.marks(|mark, _| self.scope.voids(mark));
        let handed = marks.iter().filter(|mark| mark.ends_with(".L") || mark.ends_with(".R")).copied();
        let rows = |marks: Vec<&str>| {
            if marks.is_empty() { Verdict::Keep } else { Verdict::Part(format!("the rows of {}", marks.join(", "))) }
        };
        match title {
            "Cut sheet" => match rows(self.marks(|mark, _| self.scope.voids_sheets(mark))) {
                Verdict::Part(rows) => Verdict::Part(format!("{rows}; the total, and what is said of the whole frame")),
                other => other,
            },
            "Left and right parts" => rows(handed.collect()),
            "Parts list" if marks.is_empty() => Verdict::Keep,
            "Parts list" => Verdict::Part(format!(
                "the places {}, each row that is then left without places, and the total",
                marks.join(", ")
            )),
            "Fit-up order" if self.changes.renumbers_steps() => Verdict::Void,
            "Fit-up order" => {
                let gone = self.changes.order.iter().filter(|step| !step.same).filter_map(|step| step.old);
                let mut gone: Vec<usize> = gone.collect();
                gone.sort_unstable();
                if gone.is_empty() { Verdict::Keep } else { Verdict::Part(format!("steps {}", ranges(&gone))) }
            }
            "Check dimensions" => {
                let gone = self.changes.checks.iter().filter(|check| check.old.is_some()).count();
                if gone == 0 {
                    return Verdict::Keep;
                }
                Verdict::Part(format!("the {gone} check dimensions that \"What changed\" lists with a figure before"))
            }
            _ => Verdict::Void,
        }
    }

    /// Marks of some of the parts that were there before.
    fn marks(&self, is_wanted: impl Fn(&str, ChangeKind) -> bool) -> Vec<&str> {
        let there = self.changes.parts.iter().filter(|part| part.kind != ChangeKind::Added);
        let wanted = there.filter(|part| is_wanted(&part.member, part.kind));
        wanted.map(|part| part.member.as_str()).collect()
    }
}

fn or_nothing(marks: &[&str]) -> String {
    if marks.is_empty() { "no part".to_owned() } else { marks.join(", ") }
}

/// Numbers in rising order as they are said, such as `1 to 4, 7, 9, 10`.
fn ranges(numbers: &[usize]) -> String {
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
        _ => format!("{first} to {last}"),
    });
    said.collect::<Vec<_>>().join(", ")
}
