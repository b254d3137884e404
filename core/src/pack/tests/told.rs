//! What a pack tells the holder of a kit: recalls, notices, what changed; and that headings stay with what they head.

use super::{all_packs, demo_changes, demo_revisions, demo_sheets, document, page_of, says, told};
use crate::drawing::{Area, Lettering, Text, Weight};
use crate::pack::fixture::issue;
use crate::pack::layout::furniture::Furniture;
use crate::pack::*;
use crate::render::Page;
use crate::sheets::{ChangeKind, StepKind};

fn pages(issue: &Issue) -> Vec<Page> {
    document(&demo_sheets(), issue).expect("renders").0.pages
}

/// All that the pages of a title say, in one line.
fn said(pages: &[Page], title: &str) -> String {
    let of_title = pages.iter().filter(|page| page.title == title).flat_map(|page| page.drawing.texts());
    of_title.map(|text| text.content.as_str()).collect::<Vec<_>>().join(" ")
}

#[test]
fn a_recall_comes_first_and_the_cover_says_so() {
    let issue = told(issue(Paper::A4, Status::Issued));
    let pages = pages(&issue);
    let first = pages
        .iter()
        .map(|page| page.title.as_str())
        .find(|title| !["Cover", "Where to find each part"].contains(title));
    assert_eq!(first, Some("Stop sheet of revision A"));
    let sheet = said(&pages, "Stop sheet of revision A");
    for words in ["PRODUCT SAFETY RECALL", "recalled on 2026-11-21", "Do not drive the frame.", "at no cost"] {
        assert!(sheet.contains(words), "{words}: {sheet}");
    }
    let cover = said(&pages, "Cover");
    for page in [&sheet, &cover] {
        assert!(page.contains("kits@mail.example By telephone"), "whom to ask: {page}");
    }
    for words in ["revision A was recalled", "notice 1, mandatory, is not done", "since pack 1 of revision A, parts: "]
    {
        assert!(cover.contains(words), "{words}: {cover}");
    }
    let alone = stop_sheet_pdf(&issue.recalls[0], &issue).expect("renders");
    let file = lopdf::Document::load_mem(&alone).expect("readable");
    assert_eq!(file.get_toc().expect("outline").toc[0].title, "Stop sheet of revision A");
}

#[test]
fn a_notice_lists_the_rework_and_stops_the_pages_that_it_makes_void() {
    let mut issue = told(issue(Paper::Letter, Status::Issued));
    let pages = pages(&issue);
    let notices = said(&pages, "Notices");
    for words in [
        "harness_bar FT141-1 FT141-2 Trim both ends",
        "For the parts below this notice counts, and the list of what changed does not.",
        "Notice 1, mandatory, 2026-11-20: revision A to B",
        "The harness bar sits 12 mm too wide. Trim it with the new wrap before it is welded in.",
        "from before the change. Make none of the parts listed below from its pages.",
        "Its work is in the list of what changed, the pages after these.",
        "could not be worked out: ask the supplier before you cut",
        "Notice 3 done on",
    ] {
        assert!(notices.contains(words), "{words}: {notices}");
    }
    let warned = |mark: &str| says(page_of(&pages, &format!("Wrap {mark}, end 1")), "do not cut: read notice 1 first");
    assert!(warned("harness_bar") && !warned("dash_bar"));
    let changes = demo_changes();
    issue.since = None;
    let notices = said(&document(&demo_sheets(), &issue).expect("renders").0.pages, "Notices");
    for part in changes.parts.iter().filter(|part| part.kind != ChangeKind::Unchanged) {
        assert!(notices.contains(&part.member), "{}", part.member);
    }
}

/// A builder who opens any sheet, row or step of a part that an open notice changes is told so there, and of no other part.
#[test]
fn every_sheet_row_and_step_that_a_notice_makes_void_says_so() {
    let ([old, _], mut changes) = demo_revisions();
    for part in &mut changes.parts {
        match part.member.as_str() {
            "main_hoop" | "belt_pad.L" => part.kind = ChangeKind::Replace,
            "front_hoop" => part.kind = ChangeKind::Moved,
            _ => {}
        }
    }
    let is_of = |mark: &str, kinds: &[ChangeKind]| {
        changes.parts.iter().any(|part| part.member == mark && kinds.contains(&part.kind))
    };
    let is_void = |mark: &str| is_of(mark, &[ChangeKind::Rework, ChangeKind::Replace, ChangeKind::Removed]);
    let mut issue = told(issue(Paper::A4, Status::Issued));
    issue.revision = "A".to_owned();
    issue.since = None;
    issue.notices.truncate(1);
    issue.notices[0].work = Some(changes.clone());
    let pages = document(&old, &issue).expect("renders").0.pages;
    let whole = |title: &str| said(&pages, title);
    let warned = |title: &str| says(page_of(&pages, title), "do not cut: read notice 1 first");
    let alone: Vec<(String, bool)> = old
        .bend_sheets
        .iter()
        .map(|sheet| (format!("Bend sheet {}", sheet.member), is_void(&sheet.member)))
        .chain(
            old.wraps
                .iter()
                .map(|wrap| (format!("Wrap {}, end {}", wrap.member, wrap.end.position() + 1), is_void(&wrap.member))),
        )
        .collect();
    for (title, wanted) in &alone {
        // Wraps share pages: one that is void warns for its neighbours' page too.
        assert!(warned(title) || !wanted, "{title}");
    }
    assert!(warned("Bend sheet main_hoop") && !warned("Bend sheet front_hoop"));
    let strips = old.strips.iter().filter(|strip| is_void(&strip.member)).count();
    let on_strips: usize = pages
        .iter()
        .filter(|page| page.title.starts_with("Holes "))
        .flat_map(|page| page.drawing.texts())
        .filter(|text| text.content.starts_with("do not cut: read notice 1 first"))
        .count();
    assert!(strips > 0 && on_strips == strips, "{strips} {on_strips}");
    let tubes = old.cut_sheet.rows.iter().filter(|row| is_void(&row.member)).count();
    let cut_sheet = whole("Cut sheet");
    assert!(tubes > 2 && cut_sheet.matches("do not cut: read notice 1 first").count() == tubes, "{tubes}: {cut_sheet}");
    let numbers = old.parts.iter().filter(|part| part.members.iter().any(|mark| is_void(mark))).count();
    assert_eq!(whole("Parts list").matches("read notice 1 first").count(), numbers);
    let sawn = whole("Stock plan");
    for part in old.parts.iter().filter(|part| part.members.iter().any(|mark| is_void(mark))) {
        let is_sawn = old.stock.iter().any(|section| section.parts.iter().any(|sawn| sawn.number == part.number));
        assert_eq!(sawn.contains(&format!("{}: do not cut", part.number)), is_sawn, "{}: {sawn}", part.number);
    }
    let pads = pages.iter().find(|page| page.title.contains("belt_pad.L") && page.title.starts_with("Plate"));
    let pads = pads.expect("a plate").drawing.texts().map(|text| text.content.as_str()).collect::<Vec<_>>().join(" ");
    assert!(pads.contains("do not cut: read notice 1 first") || pads.contains("do not cut belt_pad.L: read"), "{pads}");
    let jigs = |mark: &str| whole(&format!("Jig sheet {mark}")).contains("set nothing up by this page: read notice 1");
    assert!(jigs("main_hoop") && jigs("front_hoop"));
    let left_out = |after: &str, what: &str| {
        changes.steps.iter().any(|step| !step.added && step.after == after && step.what == what)
    };
    let is_changed = |mark: &str| is_void(mark) || is_of(mark, &[ChangeKind::Moved]);
    let steps = old.fit_up.steps.iter().filter(|step| match step.kind {
        StepKind::Work => left_out(&step.member, &step.note),
        _ => is_changed(&step.member),
    });
    let (steps, fit_up) = (steps.count(), whole("Fit-up order"));
    assert!(
        steps > 5 && fit_up.matches("do not do this step: read notice 1 first").count() == steps,
        "{steps}: {fit_up}"
    );
    issue.notices[0].done = Some("2026-11-24".to_owned());
    let pages = document(&old, &issue).expect("renders").0.pages;
    assert!(said(&pages, "Cut sheet").contains("do not cut: notice 1, which is done, changed this part"));
    assert!(said(&pages, "Fit-up order").contains("do not do this step: notice 1, which is done, changed it"));
    assert!(!says(page_of(&pages, "Bend sheet front_hoop"), "notice 1"));
}

/// The outline of the belt pad runs into its round end without a corner at (25, 12); its upper corner is at (-15, 12), and the middle of
/// its lower edge at (-5, -12).
#[test]
fn the_hands_of_a_plate_are_told_by_a_corner_that_can_be_seen() {
    let sheets = demo_sheets();
    let told =
        said(&document(&sheets, &issue(Paper::A4, Status::Issued)).expect("renders").0.pages, "Left and right parts");
    assert!(!told.contains("lies 30 mm to the right of its middle"), "{told}");
    assert!(told.contains("the corner 24 mm above that edge lies 10 mm to the left"), "{told}");
}

#[test]
fn what_changed_names_every_trim_once_with_its_wrap_and_a_box() {
    let changes = demo_changes();
    let pages = pages(&told(issue(Paper::A4, Status::Issued)));
    let words = said(&pages, "What changed");
    // That of the bar is left to a notice.
    let own = changes.parts.iter().filter(|part| part.member != "harness_bar");
    let trims = own.flat_map(|part| part.trims.iter().map(move |trim| (part, trim)));
    for (part, trim) in trims {
        let end = trim.end.position() + 1;
        let once = format!("Trim end {end}, ");
        let wrap = format!("mark it with wrap {}, end {end}.", part.member);
        assert!(words.contains(&once) && words.matches(&wrap).count() == 1, "{wrap}: {words}");
    }
}

/// A heading, or the head of a table, with nothing under it on its page says nothing.
#[test]
fn no_heading_stands_alone_at_the_foot_of_a_page() {
    let mut looked_at = 0;
    for (issue, document) in all_packs() {
        let furniture =
            Furniture { letters: letters().expect("compiled in"), issue: &issue, words: &EN, stop: Stop::NEVER };
        let area = furniture.content_area();
        for Page { title, drawing, .. } in &document.pages {
            let is_within = |text: &Text| (area.y..area.top()).contains(&text.at[1]);
            let texts: Vec<&Text> = drawing.texts().filter(|text| is_within(text)).collect();
            let is_head = |text: &Text| {
                let is_total = text.content.starts_with("Total: ") || text.content.contains(" numbers");
                text.face == Weight::Bold && text.lettering == Lettering::Heading && !is_total && has_margin(text, area)
            };
            for head in texts.iter().filter(|text| is_head(text)) {
                looked_at += 1;
                assert!(
                    texts.iter().any(|text| text.at[1] < head.at[1] - 1.0),
                    "{:?} {:?}, {title}: {:?} stands alone",
                    issue.print.paper,
                    issue.status,
                    head.content
                );
            }
        }
    }
    assert!(looked_at > 1_000, "{looked_at}");
}

/// Whether a text begins at the left edge of the page's content.
fn has_margin(text: &Text, area: Area) -> bool {
    (text.at[0] - area.x).abs() < 0.1
}

#[test]
fn the_title_block_of_a_page_of_many_wraps_says_how_many_and_which() {
    let pages = pages(&issue(Paper::Roll, Status::Issued));
    let many: Vec<&Page> = pages.iter().filter(|page| page.title.split("; ").count() > 10).collect();
    let mut shortened = 0;
    for Page { title, drawing, .. } in many {
        let names: Vec<&str> = title.split("; ").collect();
        let words: Vec<&str> = drawing.texts().map(|text| text.content.as_str()).collect();
        let words = words.join(" ");
        let wanted = format!("{} in all, from {} to {}", names.len(), names[0], names[names.len() - 1]);
        assert!(words.contains(&wanted) || words.contains(title), "{wanted}");
        shortened += usize::from(!words.contains(title));
    }
    assert!(shortened > 3, "{shortened}");
}
