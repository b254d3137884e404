//! The cover: what the pack is, what is in it, and how not to get hurt.
use super::changes::counts;
use super::notices::lines;
use crate::drawing::{Anchor, Drawing, Lettering, Pen, Text, Weight};
use crate::pack::layout::counting::Counting;
use crate::pack::layout::flow::Flow;
use crate::pack::layout::furniture::Furniture;
use crate::pack::layout::lines::{baseline, break_lines};
use crate::pack::{Content, Issue, OnPage, SheetKind, Since, Status, Units};
use crate::words::groups::cautions::Cautions;
use crate::words::groups::cover::Cover;

/// Between the two columns of the contents, mm.
const GAP: f64 = 12.0;

/// The cover. `sections` are names with their first and last page.
pub(in crate::pack) fn pages(sections: &[(&str, usize, usize)], furniture: Furniture) -> Vec<Content> {
    let (issue, letters, say) = (furniture.issue, furniture.letters, &furniture.words.cover);
    let area = furniture.content_area();
    let mut flow = Flow::new(furniture, area, "");
    flow.skip(6.0);
    for line in break_lines(letters, &issue.design, Lettering::Display, Weight::Bold, area.width) {
        flow.line(&line, area.x, Lettering::Display, Weight::Bold);
    }
    let what = match issue.status {
        Status::Draft => say.preview(furniture.words.page.draft_mark()),
        Status::Issued => match issue.since.as_ref().filter(|since| since.only) {
            Some(since) => match Before::of(since) {
                Before::Revision(revision) => say.changes_to_revision(revision),
                Before::Pack(pack, revision) => say.changes_to_pack(pack, revision),
                Before::Packs([first, second], revision) => say.changes_to_packs(first, second, revision),
            },
            None => say.build_pack().to_owned(),
        },
    };
    flow.line(&what, area.x, Lettering::Heading, Weight::Regular);
    flow.skip(3.0);
    flow.rule(Pen::Edge);
    flow.skip(2.0);
    let revision = match issue.status {
        Status::Draft => say.not_published(),
        Status::Issued => issue.revision.as_str(),
    };
    for (caption, value) in [
        (say.caption_supplier(), issue.supplier.as_str()),
        (say.caption_revision(), revision),
        (say.caption_date(), issue.date.as_str()),
        (say.caption_kit(), or(&issue.kit, say.no_kit())),
        (say.caption_pack(), or(&issue.pack_number, &unnumbered(issue, say))),
        (say.caption_document(), &short_hash(&issue.design_sha256, say)),
    ] {
        flow.fact(caption, value);
    }
    for (index, line) in lines(&issue.contact).iter().enumerate() {
        flow.fact(if index == 0 { say.caption_contact() } else { "" }, line);
    }
    if let Some(words) = issue.print.hands.cover_words(furniture.words) {
        flow.fact(say.caption_hands(), words);
    }
    for fact in &issue.kit_facts {
        flow.fact(say.caption_kit_fact(), &furniture.figures().kit_fact(fact));
    }
    news_for_holder(&mut flow, furniture);
    if let Some(since) = &issue.since {
        changed(&mut flow, since, furniture);
    }

    flow.heading(say.heading_contents());
    let rows = sections.len().div_ceil(2);
    let width = (area.width - GAP) / 2.0;
    for row in 0..rows {
        let y = baseline(flow.top(), Lettering::Body);
        for (index, x) in [(row, area.x), (row + rows, area.x + width + GAP)] {
            let Some((name, first, last)) = sections.get(index) else { continue };
            let pages = if first == last { first.to_string() } else { say.pages(first, last) };
            flow.page().text(Text::new(*name, [x, y]));
            flow.page().text(Text::new(pages, [x + width, y]).anchored(Anchor::End));
        }
        flow.skip(Lettering::Body.leading());
        flow.settle();
    }
    flow.skip(1.5);
    flow.paragraph(&format!("{} {}", rule(issue, say), say.compare()));

    if issue.print.units != Units::Mm {
        flow.paragraph(say.units_of_the_supplier());
    }

    flow.heading(say.heading_cautions());
    for (number, caution) in (1..).zip(cautions(&furniture.words.cautions)) {
        flow.marked(&i32::to_string(&number), caution);
    }
    contents_of(flow, OnPage::of_frame(SheetKind::Cover, say.bookmark()))
}

/// Local codes come first.
fn cautions(say: &Cautions) -> [&'static str; 11] {
    [
        say.codes_first(),
        say.eyes(),
        say.grinding(),
        say.clamping(),
        say.edges(),
        say.fumes(),
        say.fire(),
        say.competence(),
        say.roll_structure(),
        say.tack_first(),
        say.disagreement(),
    ]
}

/// What the holder of the kit was told.
fn news_for_holder(flow: &mut Flow, furniture: Furniture) {
    let (issue, say) = (furniture.issue, &furniture.words.cover);
    for recall in &issue.recalls {
        flow.fact(say.caption_recall(), &say.recalled(&recall.revision));
    }
    for notice in &issue.notices {
        let (number, class) = (notice.number, furniture.figures().notice_class(notice.class));
        let words = match &notice.done {
            _ if notice.is_stopped => say.notice_stopped(number, class, &notice.to),
            Some(day) if notice.is_in_pack => say.notice_done_before(number, class, day),
            Some(day) => say.notice_done(number, class, day),
            None => say.notice_open(number, class),
        };
        flow.fact(say.caption_notice(), &words);
    }
}

/// What changed since the pack before, and what of that stays valid.
fn changed(flow: &mut Flow, since: &Since, furniture: Furniture) {
    let say = &furniture.words.cover;
    let counts = counts(&Counting::of(since, furniture), &furniture.words.changes);
    let (changed, valid) = match Before::of(since) {
        Before::Revision(revision) => (say.since_revision(revision, counts), say.keep_of_revision(revision)),
        Before::Pack(pack, revision) => (say.since_pack(pack, revision, counts), say.keep_of_pack(pack, revision)),
        Before::Packs([first, second], revision) => {
            (say.since_packs(first, second, revision, counts), say.keep_of_packs(first, second, revision))
        }
    };
    flow.fact(say.caption_changes(), &changed);
    if let Some(revision) = since.moved_to.as_ref().filter(|_| since.only) {
        flow.fact(say.caption_valid(), &say.only_old_parts(revision));
    } else if since.only {
        let valid = if since.changes.renumbers_steps() { say.carry_over_then(valid) } else { valid };
        flow.fact(say.caption_valid(), &valid);
    }
}

/// What is said in place of a number that only a service gives.
fn unnumbered(issue: &Issue, say: &Cover) -> String {
    match (issue.status, issue.notice_pages) {
        (Status::Draft, _) => say.not_issued().to_owned(),
        (Status::Issued, Some(pages)) => say.pages_of_notice(pages.notice, pages.beside, pages.told),
        (Status::Issued, None) => say.no_service().to_owned(),
    }
}

/// Which pages may be used together.
fn rule(issue: &Issue, say: &Cover) -> String {
    let since = issue.since.as_ref().filter(|since| since.only);
    if let Some(revision) = since.and_then(|since| since.moved_to.as_ref()) {
        return say.only_old_parts(revision);
    }
    match since.map(Before::of) {
        Some(Before::Revision(revision)) => say.use_with_revision(revision),
        Some(Before::Pack(pack, revision)) => say.use_with_pack(pack, revision),
        Some(Before::Packs([first, second], revision)) => say.use_with_packs(first, second, revision),
        None => say.do_not_mix().to_owned(),
    }
}

/// Pages of a flow, the first of them in the outline.
pub(in crate::pack) fn contents_of(flow: Flow, on: OnPage) -> Vec<Content> {
    contents_from(flow.finish(), &on)
}

/// Content from pages, the first of them in the outline.
pub(in crate::pack) fn contents_from(pages: Vec<Drawing>, on: &OnPage) -> Vec<Content> {
    let begins = |index: usize| if index == 0 { vec![on.clone()] } else { Vec::new() };
    pages.into_iter().enumerate().map(|(index, drawing)| Content::new(begins(index), drawing)).collect()
}

/// What the holder has from before: packs of a revision, or the revision where there was none.
enum Before<'a> {
    Revision(&'a str),
    Pack(&'a str, &'a str),
    Packs([&'a str; 2], &'a str),
}

impl<'a> Before<'a> {
    fn of(since: &'a Since) -> Self {
        let mut packs: Vec<&str> = since.pages.iter().map(|page| page.pack.as_str()).collect();
        packs.dedup();
        match (packs.as_slice(), since.pack_number.as_str()) {
            ([first, second], _) => Self::Packs([first, second], &since.revision),
            (_, "") => Self::Revision(&since.revision),
            (_, pack) => Self::Pack(pack, &since.revision),
        }
    }
}

fn or<'a>(text: &'a str, otherwise: &'a str) -> &'a str {
    if text.is_empty() { otherwise } else { text }
}

/// The first 16 digits of the document's hash, enough to tell two documents apart on paper.
fn short_hash(sha256: &str, say: &Cover) -> String {
    if sha256.is_empty() {
        return say.not_recorded().to_owned();
    }
    let digits: String = sha256.chars().take(16).collect();
    say.hash(digits)
}
