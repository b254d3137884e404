//! The cover: what the pack is, what is in it, and how not to get hurt.
use super::changes::counts;
use super::notices::lines;
use crate::drawing::{Anchor, Drawing, Face, Lettering, Pen, Text};
use crate::pack::layout::flow::Flow;
use crate::pack::layout::furniture::Furniture;
use crate::pack::layout::lines::{baseline, break_lines};
use crate::pack::{Content, Issue, Since, Status, Units};

/// Cautions for cutting, grinding and welding. Local codes come first; sources are named where a figure has one.
const CAUTIONS: [&str; 11] = [
    "Local codes, the instructions of your machines and licensed practice come first. This pack is not an approval of anything.",
    "Eyes: wear eye protection to EN ISO 16321-1 or to EN 166, which it replaces (old certificates run on to 2030 at the latest), or to ANSI Z87.1, whenever tube is sawn, drilled, ground or brushed; under a welding shield too.",
    "Grinding and cutting: guards on, the right disc for the speed, ear protection, nobody in line with the sparks. Keep loose clothing, hair and gloves clear of rotating tools.",
    "Clamp the work before you saw, drill, grind or bend. A tube held by hand spins or climbs.",
    "Edges of cut tube are sharp: deburr inside and outside, and wear gloves to carry parts, never at a rotating tool.",
    "Fumes: ventilate, and keep your head out of the plume. Never weld or heat zinc or other coatings: take them off to bare metal first, well beyond the heat.",
    "Fire: clear or cover what can burn, keep an extinguisher at hand, and keep watch for at least one hour after hot work ends. Something can smoulder for half an hour and longer before it burns. Stop hot work early enough to keep that watch.",
    "Welding a structure that people rely on is work for a competent welder. Try each joint on scrap of the same tube first.",
    "Roll structures are subject to the rules of the governing body and to inspection by a competent person, before they are used and after any repair. A rule mentioned in these pages is quoted for information only.",
    "Tack everything, measure, and only then weld; check widths and diagonals after each stage, and trust tape and square above any template.",
    "If a part, a page and the frame disagree, stop and ask the supplier before you cut.",
];

/// Between the two columns of the contents, mm.
const GAP: f64 = 12.0;

/// The cover. `sections` are names with their first and last page.
pub(in crate::pack) fn pages(sections: &[(&str, usize, usize)], furniture: Furniture) -> Vec<Content> {
    let (issue, letters) = (furniture.issue, furniture.letters);
    let area = furniture.content_area();
    let mut flow = Flow::new(furniture, area, "");
    flow.skip(6.0);
    for line in break_lines(letters, &issue.design, Lettering::Display, Face::Bold, area.width) {
        flow.line(&line, area.x, Lettering::Display, Face::Bold);
    }
    let what = match issue.status {
        Status::Draft => format!("Preview of a draft: {}", furniture.words.page.draft_mark()),
        Status::Issued => match issue.since.as_ref().filter(|since| since.only) {
            Some(since) => format!("Changes only, for the holder of {}", before(since)),
            None => "Build pack of a welded tube frame".to_owned(),
        },
    };
    flow.line(&what, area.x, Lettering::Heading, Face::Regular);
    flow.skip(3.0);
    flow.rule(Pen::Edge);
    flow.skip(2.0);
    for (caption, value) in [
        ("supplier", issue.supplier.as_str()),
        (
            "revision",
            match issue.status {
                Status::Draft => "draft, not published",
                Status::Issued => issue.revision.as_str(),
            },
        ),
        ("date of issue", issue.date.as_str()),
        ("kit serial", or(&issue.kit, "for no kit")),
        ("pack number", or(&issue.pack_number, &unnumbered(issue))),
        ("design document", &short_hash(&issue.design_sha256)),
    ] {
        flow.fact(caption, value);
    }
    for (index, line) in lines(&issue.contact).iter().enumerate() {
        flow.fact(if index == 0 { "whom to ask" } else { "" }, line);
    }
    if let Some(words) = issue.print.hands.cover_words(furniture.words) {
        flow.fact("one hand only", words);
    }
    for fact in &issue.kit_facts {
        flow.fact("this kit", &furniture.figures().kit_fact(fact));
    }
    told(&mut flow, issue);
    if let Some(since) = &issue.since {
        flow.fact("what changed", &format!("since {}, {}", before(since), counts(&since.changes)));
        if since.only {
            let first = if since.changes.renumbers_steps() {
                "carry over what you ticked in the fit-up order; then "
            } else {
                ""
            };
            let words = format!(
                "{first}of {} keep only what \"What changed\" lists, and cross out the rest before you use any page of either",
                before(since)
            );
            flow.fact("what stays valid", &words);
        }
    }

    flow.heading("Contents");
    let rows = sections.len().div_ceil(2);
    let width = (area.width - GAP) / 2.0;
    for row in 0..rows {
        let y = baseline(flow.top(), Lettering::Body);
        for (index, x) in [(row, area.x), (row + rows, area.x + width + GAP)] {
            let Some((name, first, last)) = sections.get(index) else { continue };
            let pages = if first == last { first.to_string() } else { format!("{first} to {last}") };
            flow.page().text(Text::new(*name, [x, y]));
            flow.page().text(Text::new(pages, [x + width, y]).anchored(Anchor::End));
        }
        flow.skip(Lettering::Body.leading());
        flow.settle();
    }
    flow.skip(1.5);
    flow.paragraph(&format!(
        "{} Every page names design, revision, date, kit and pack: compare them with this cover before you use a page.",
        rule(issue)
    ));

    if issue.print.units != Units::Mm {
        flow.paragraph("The supplier's own words, such as notes, notices and things to do, stand as they were written, in the unit that they name.");
    }

    flow.heading("Before you cut, grind or weld");
    for (index, caution) in CAUTIONS.iter().enumerate() {
        flow.marked(&(index + 1).to_string(), caution);
    }
    contents_of(flow, "Cover")
}

/// What the holder of the kit was told.
fn told(flow: &mut Flow, issue: &Issue) {
    for recall in &issue.recalls {
        flow.fact("recall", &format!("revision {} was recalled: read its stop sheet first", recall.revision));
    }
    for notice in &issue.notices {
        let words = match &notice.done {
            _ if notice.is_stopped => format!(
                "notice {}, {}: stop, revision {}, which has its change, was recalled; read the page of notices first",
                notice.number, notice.class, notice.to
            ),
            Some(day) => format!(
                "notice {}, {}, was done on {day}: the parts that it names are no longer those of this pack",
                notice.number, notice.class
            ),
            None => format!("notice {}, {}, is not done: read it before you cut anything", notice.number, notice.class),
        };
        flow.fact("notice", &words);
    }
}

/// What is said in place of a number that only a service gives.
fn unnumbered(issue: &Issue) -> String {
    let notice = issue.seal.as_ref().and_then(|seal| seal.notice);
    match (issue.status, notice) {
        (Status::Draft, _) => "not issued".to_owned(),
        (Status::Issued, Some(number)) => format!("none: the pages of notice {number}"),
        (Status::Issued, None) => "none: drawn from a document, issued by no service".to_owned(),
    }
}

/// Which pages may be used together.
fn rule(issue: &Issue) -> String {
    match issue.since.as_ref().filter(|since| since.only) {
        Some(since) => format!(
            "Use these pages with those pages of {} that are listed as valid, and with no others.",
            before(since)
        ),
        None => "Pages of different revisions must not be mixed.".to_owned(),
    }
}

/// Pages of a flow, the first of them in the outline.
pub(in crate::pack) fn contents_of(flow: Flow, bookmark: &str) -> Vec<Content> {
    contents_from(flow.finish(), bookmark)
}

/// Content from pages, the first of them in the outline.
pub(in crate::pack) fn contents_from(pages: Vec<Drawing>, bookmark: &str) -> Vec<Content> {
    let bookmarks = |index: usize| if index == 0 { vec![bookmark.to_owned()] } else { Vec::new() };
    pages.into_iter().enumerate().map(|(index, drawing)| Content::new(bookmarks(index), drawing)).collect()
}

/// The pack before, or the revision where there was none.
fn before(since: &Since) -> String {
    let mut packs: Vec<&str> = since.pages.iter().map(|page| page.pack.as_str()).collect();
    packs.dedup();
    match (packs.as_slice(), since.pack_number.as_str()) {
        ([first, second], _) => format!("packs {first} and {second} of revision {}", since.revision),
        (_, "") => format!("revision {}", since.revision),
        (_, pack) => format!("pack {pack} of revision {}", since.revision),
    }
}

fn or<'a>(text: &'a str, otherwise: &'a str) -> &'a str {
    if text.is_empty() { otherwise } else { text }
}

/// The first 16 digits of the document's hash, enough to tell two documents apart on paper.
fn short_hash(sha256: &str) -> String {
    if sha256.is_empty() {
        return "not recorded".to_owned();
    }
    let digits: String = sha256.chars().take(16).collect();
    format!("SHA-256 {digits}…")
}
