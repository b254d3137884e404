//! A pack of what changed beside the pack before: what stays valid of that, and that no number stands for two things.

use super::{demo_revisions, document, drawn_with_facts, revisions_with, says};
use crate::pack::fixture::issue;
use crate::pack::*;
use crate::render::Page;
use crate::sheets::{ChangeKind, Changes};
use std::collections::BTreeSet;

/// The pages of the demo's first revision as the holder of a kit has them.
pub(super) fn pages_before(old: &Sheets, paper: Paper) -> Vec<PageBefore> {
    let mut issue = issue(paper, Status::Issued);
    issue.revision = "A".to_owned();
    let (document, facts) = drawn_with_facts(old, &issue).expect("renders");
    let before = |((page, facts), number): ((Page, PageFacts), usize)| PageBefore {
        pack: "1".to_owned(),
        page: number,
        title: page.title,
        holds: facts.holds,
        replaced: Vec::new(),
    };
    document.pages.into_iter().zip(facts).zip(1..).map(before).collect()
}

pub(super) fn issue_of(changes: Changes, pages: Vec<PageBefore>, paper: Paper) -> Issue {
    let since = Since {
        revision: "A".to_owned(),
        pack_number: "1".to_owned(),
        changes,
        only: true,
        pages,
        stale: Vec::new(),
        moved_to: None,
    };
    Issue { since: Some(since), ..issue(paper, Status::Issued) }
}

pub(super) fn drawn(sheets: &Sheets, issue: &Issue) -> Document {
    let since = issue.since.as_ref().expect("a pack of what changed");
    document(&changes::changed_only(sheets, &since.changes), issue).expect("renders").0
}

/// A pack of what changed on some paper.
pub(super) fn pack(paper: Paper) -> (Issue, Document) {
    let ([old, new], changes) = demo_revisions();
    let issue = issue_of(changes, pages_before(&old, paper), paper);
    let drawn = drawn(&new, &issue);
    (issue, drawn)
}

pub(super) fn words(document: &Document, title: &str) -> String {
    let of_title = document.pages.iter().filter(|page| page.title == title).flat_map(|page| page.drawing.texts());
    of_title.map(|text| text.content.as_str()).collect::<Vec<_>>().join(" ")
}

/// The numbers that `1 to 3, 7` stands for, up to the first word that is none.
fn numbers(said: &str) -> BTreeSet<usize> {
    let mut found = BTreeSet::new();
    let (mut from, mut is_open) = (0, false);
    for word in said.split(' ') {
        let bare = word.trim_end_matches([',', '.']);
        let Ok(number) = bare.parse::<usize>() else {
            if word == "to" && is_open {
                is_open = false;
                continue;
            }
            break;
        };
        // After a number without a comma comes `to`, or something else.
        if is_open {
            break;
        }
        found.extend(if from > 0 { from..=number } else { number..=number });
        is_open = bare == word;
        from = if is_open { number } else { 0 };
    }
    found
}

#[test]
fn every_page_of_the_pack_before_is_kept_or_crossed_out_by_its_number() {
    let ([old, new], changes) = demo_revisions();
    let before = pages_before(&old, Paper::A4);
    let issue = issue_of(changes.clone(), before.clone(), Paper::A4);
    let document = drawn(&new, &issue);
    let said = words(&document, "What changed");
    let after = |from: &str| {
        let at = said.find(from).unwrap_or_else(|| panic!("{from}: {said}"));
        &said[at + from.len()..]
    };
    let kept = numbers(after("keep, whole pages "));
    let gone = numbers(after("cross out, whole pages "));
    let in_part: BTreeSet<usize> =
        (1..=before.len()).filter(|page| !kept.contains(page) && !gone.contains(page)).collect();
    assert!(kept.is_disjoint(&gone) && kept.len() > 40 && gone.len() > 10, "{kept:?} {gone:?}");
    let table = after("Keep these but for what is crossed out:");
    for page in &in_part {
        let title = &before[page - 1].title;
        assert!(table.contains(title.split("; ").next().expect("a title")), "{page}: {title}");
    }
    let kind = |mark: &str| changes.parts.iter().find(|part| part.member == mark).map(|part| part.kind);
    for PageBefore { page, title, .. } in &before {
        let marks: Vec<&str> = title
            .split("; ")
            .filter_map(|part| part.strip_prefix("Wrap "))
            .filter_map(|wrap| wrap.split(',').next())
            .collect();
        if marks.is_empty() {
            continue;
        }
        let stays = |mark: &str| matches!(kind(mark), Some(ChangeKind::Unchanged | ChangeKind::Moved));
        let (all, none) = (marks.iter().all(|mark| stays(mark)), !marks.iter().any(|mark| stays(mark)));
        assert_eq!((kept.contains(page), gone.contains(page)), (all, none), "{page}: {title}");
    }
    for title in ["Cover", "Frame, three views", "Frame, pictorial", "Stock plan"] {
        assert!(before.iter().filter(|page| page.title == title).all(|page| gone.contains(&page.page)), "{title}");
    }
    let cut_sheet = before.iter().find(|page| page.title == "Cut sheet").expect("a cut sheet");
    assert!(in_part.contains(&cut_sheet.page) && table.contains("harness_bar, hoop_diag_up"), "{table}");
}

/// A tick on a page that is crossed out first is lost.
#[test]
fn what_is_ticked_is_carried_over_before_anything_is_crossed_out() {
    let (_, document) = pack(Paper::A4);
    let said = words(&document, "What changed");
    let place = |words: &str| said.find(words).unwrap_or_else(|| panic!("{words}: {said}"));
    let carried = place("carry over what you ticked");
    for later in ["cross out the pages and rows", "cross out, whole pages", "Keep these but for what is crossed out"] {
        assert!(carried < place(later), "{later}: {said}");
    }
    assert!(!said[..carried].contains("cross out") && !said.contains("then cross out the order before"), "{said}");
    let cover = words(&document, "Cover");
    assert!(cover.contains("carry over what you ticked"), "{cover}");
}

#[test]
fn no_page_of_changes_says_at_once_to_keep_and_never_to_mix() {
    let (_, document) = pack(Paper::Letter);
    for Page { title, drawing, .. } in &document.pages {
        assert!(!says(drawing, "must not be mixed"), "{title}");
        assert!(says(drawing, "lists stays valid"), "{title}");
    }
    let cover = words(&document, "Cover");
    for said in ["Changes only, for the holder of pack 1 of revision A", "cross out the rest before you use any page"] {
        assert!(cover.contains(said), "{said}: {cover}");
    }
}

#[test]
fn steps_have_the_numbers_of_the_whole_revision_and_name_those_before() {
    let ([old, new], changes) = demo_revisions();
    let (issue, document) = pack(Paper::A4);
    let fit_up = words(&document, "Fit-up order");
    let mut shown = 0;
    // Steps move, so that the whole order is told anew and no page of the one before stays.
    for step in &new.fit_up.steps {
        let place = changes.order.iter().find(|place| place.new == Some(step.number)).expect("a place");
        let before = match (place.old, place.same) {
            (Some(before), true) => format!("(step {before} before)"),
            (Some(before), false) => format!("(changed, step {before} before)"),
            (None, _) => "(new)".to_owned(),
        };
        let heads = [
            format!("{} {}", step.number, step.member),
            format!("{} Trim {}", step.number, step.member),
            format!("{} After {}", step.number, step.member),
        ];
        let from = heads.iter().find_map(|head| fit_up.find(head.as_str()));
        let title = &fit_up[from.unwrap_or_else(|| panic!("{heads:?}: {fit_up}"))..];
        let (own, _) = title.split_at(title.find(&before).unwrap_or_else(|| panic!("{before}: {title}")));
        assert!(own.len() < 140, "{own}");
        shown += 1;
    }
    assert!(shown > 100, "{shown}");
    let gone = &issue.since.as_ref().expect("a pack before").pages;
    let said = words(&document, "What changed");
    let crossed = numbers(&said[said.find("cross out, whole pages ").expect("pages") + 23..]);
    assert!(gone.iter().filter(|page| page.title == "Fit-up order").all(|page| crossed.contains(&page.page)));
    // Each old step has one fate: it is gone, or it has one number in the new order.
    let mut taken = BTreeSet::new();
    for place in &changes.order {
        let (Some(before), true) = (place.old, place.same) else { continue };
        let now = place.new.expect("it stays");
        assert!(taken.insert(now) && !changes.order.iter().any(|other| other.new == Some(now) && !other.same));
        let same = |sheets: &Sheets, number: usize| {
            let step = &sheets.fit_up.steps[number - 1];
            (step.member.clone(), step.kind, step.note.clone())
        };
        assert_eq!(same(&old, before), same(&new, now));
    }
}

/// What stays valid of the pack before names no step that is another one now.
#[test]
fn no_page_or_row_that_is_kept_names_a_step_that_is_another_now() {
    // Trimmed as late as that, both rails stand behind parts that the second revision adds.
    let late = [("\"nose_cross\"}", "\"bulkhead_diag\"}"), ("\"gearbox_cross\"}", "\"tail_brace\"}")];
    let ([old, new], changes) = revisions_with(&late);
    let before = document(&old, &issue(Paper::A4, Status::Issued)).expect("renders").0;
    let document = drawn(&new, &issue_of(changes.clone(), pages_before(&old, Paper::A4), Paper::A4));
    let said = words(&document, "What changed");
    let kept = numbers(&said[said.find("keep, whole pages ").expect("pages") + 18..]);
    let is_another = |number: usize| {
        let step = |sheets: &Sheets| sheets.fit_up.steps.get(number - 1).map(|step| (step.kind, step.member.clone()));
        step(&old) != step(&new)
    };
    let named = |text: &str| -> Vec<usize> {
        let after = text.split("step ").skip(1);
        after.filter_map(|rest| numbers(rest).first().copied()).collect()
    };
    let moved: Vec<&str> = changes.trim_steps.iter().map(|trim| trim.member.as_str()).collect();
    assert!(moved.contains(&"rear_rail.L") && moved.contains(&"nose_rail.R"), "{moved:?}");
    for page in &kept {
        let Page { title, drawing, .. } = &before.pages[page - 1];
        let texts = drawing.texts().map(|text| text.content.as_str()).collect::<Vec<_>>().join(" ");
        let wrong: Vec<usize> = named(&texts).into_iter().filter(|number| is_another(*number)).collect();
        assert!(wrong.is_empty(), "page {page}, {title}: steps {wrong:?}");
    }
    // Rows of the cut sheet: each that names such a step is crossed out, and stands in this pack with the step that it is now.
    let cut_sheet = words(&document, "Cut sheet");
    for trim in &changes.trim_steps {
        assert!(
            said.contains(&format!(
                "{}, end {}: step {} is step {} now",
                trim.member,
                trim.end.position() + 1,
                trim.old,
                trim.new
            )),
            "{said}"
        );
        assert!(
            cut_sheet.contains(&trim.member)
                && cut_sheet.contains(&format!("at step {} of the fit-up order", trim.new))
        );
        assert!(said[said.find("Cut sheet").expect("a row")..].contains(&trim.member));
        let title = format!("Wrap {}, end {}", trim.member, trim.end.position() + 1);
        let wrap: Vec<&Page> = document.pages.iter().filter(|page| page.title.contains(&title)).collect();
        assert_eq!(wrap.len(), 1, "{title}");
        assert!(says(&wrap[0].drawing, &format!("step {} of", trim.new)), "{title}");
    }
}

#[test]
fn numbers_of_new_rows_and_checks_are_none_that_stay() {
    let ([old, _], _) = demo_revisions();
    let (issue, document) = pack(Paper::A4);
    let area = furniture(&issue).expect("a pack").content_area();
    for (title, most) in [("Check dimensions", old.checks.len()), ("Cut sheet", old.cut_sheet.rows.len())] {
        let pages = document.pages.iter().filter(|page| page.title == title);
        let firsts = pages.flat_map(|page| page.drawing.texts()).filter(|text| (text.at[0] - area.x).abs() < 0.1);
        let firsts: Vec<&str> = firsts.map(|text| text.content.as_str()).collect();
        let repeated: Vec<&&str> =
            firsts.iter().filter(|text| text.parse::<usize>().is_ok_and(|number| number <= most)).collect();
        assert!(repeated.is_empty(), "{title}: {repeated:?}");
    }
    let checks = words(&document, "Check dimensions");
    let numbered = (1..=99).filter(|number| checks.contains(&format!(" {}{number} ", issue.revision))).count();
    assert!(numbered > 1, "{checks}");
}

#[test]
fn bars_and_parts_are_counted_for_what_is_made_anew_only() {
    let (_, changes) = demo_revisions();
    let (_, document) = pack(Paper::A4);
    let of_kinds = |kinds: &[ChangeKind]| {
        let parts = changes.parts.iter().filter(|part| kinds.contains(&part.kind));
        parts.filter_map(|part| part.new_number.clone()).collect::<Vec<_>>()
    };
    let sawn = of_kinds(&[ChangeKind::Replace, ChangeKind::Added]);
    let made = of_kinds(&[ChangeKind::Rework, ChangeKind::Replace, ChangeKind::Added]);
    let plan = words(&document, "Stock plan");
    assert!(plan.contains("Bars for the tubes that are replaced or new"), "{plan}");
    assert!(sawn.len() > 2 && sawn.iter().all(|number| plan.contains(number.as_str())), "{sawn:?}: {plan}");
    let reworked = of_kinds(&[ChangeKind::Rework]);
    assert!(reworked.iter().all(|number| sawn.contains(number) || !plan.contains(number.as_str())));
    let numbers: BTreeSet<&String> = made.iter().collect();
    let list = words(&document, "Parts list");
    assert!(list.contains(&format!("{} parts of {} numbers", made.len(), numbers.len())), "{list}");
}

#[test]
fn without_the_pages_before_it_is_said_by_marks_what_stays() {
    let ([_, new], changes) = demo_revisions();
    let document = drawn(&new, &issue_of(changes, Vec::new(), Paper::A4));
    let said = words(&document, "What changed");
    assert!(said.contains("What stays valid of the pages before") && said.contains("harness_bar"), "{said}");
}

/// Both ends of the bar are trimmed by 3 mm. The first wrap is set out from an end that still has 3 mm too much: by the figure on its
/// sheet it would take 6 mm off and move every hole that is drilled. The stations of the demo's holes say where each cut must come.
#[test]
fn a_bar_trimmed_at_both_ends_keeps_its_holes_by_the_order_and_the_set_outs_told() {
    let ([old, new], changes) = demo_revisions();
    let part = changes.parts.iter().find(|part| part.member == "harness_bar").expect("the bar");
    let set_outs: Vec<f64> =
        part.trims.iter().filter_map(|trim| trim.set_out).map(|set_out| set_out.nominal + set_out.more).collect();
    assert!((set_outs[0] - 1062.0).abs() < 0.05 && (set_outs[1] - 1059.0).abs() < 0.05, "{set_outs:?}");
    let hole = |sheets: &Sheets| {
        let strip = sheets.strips.iter().find(|strip| strip.member == "harness_bar").expect("a strip");
        strip.holes.iter().find(|hole| hole.hole == "belt_1").expect("a hole").from_datum
    };
    let overall =
        |sheets: &Sheets| sheets.cut_sheet.rows.iter().find(|row| row.member == "harness_bar").expect("a row").overall;
    // The base line, from the old long point of the end that the holes are measured from.
    let base = overall(&old) - set_outs[0];
    let wrap = new.wraps.iter().find(|wrap| wrap.member == "harness_bar").expect("a wrap");
    let high = wrap.outer.iter().flatten().map(|point| point[1]).fold(0.0, f64::max);
    assert!((hole(&old) - (base - high) - hole(&new)).abs() < 0.05, "{base} {high}");
    let (_, document) = pack(Paper::A4);
    let said = words(&document, "What changed");
    for told in [
        "First: set-out 1062 mm from the long point of the old cut at end 2: 3 mm more than the 1059 mm on its sheet",
        "Then: set-out 1059 mm from the long point of the new cut at end 1.",
    ] {
        assert!(said.contains(told), "{told}: {said}");
    }
}

/// The last tile of a strip stands on a page with other strips: a page that is kept holds nothing that is void.
#[test]
fn no_page_that_is_kept_carries_a_tile_of_a_template_that_is_void() {
    let ([old, new], changes) = demo_revisions();
    let pages = document(&old, &issue(Paper::A4, Status::Issued)).expect("renders").0.pages;
    let said = words(&drawn(&new, &issue_of(changes, pages_before(&old, Paper::A4), Paper::A4)), "What changed");
    let kept = numbers(&said[said.find("keep, whole pages ").expect("pages") + 18..]);
    let with_tile = |page: &&Page| says(&page.drawing, "Tile ") && says(&page.drawing, "Holes harness_bar");
    let tiles: Vec<&Page> = pages.iter().filter(with_tile).collect();
    assert!(tiles.len() > 1 && tiles.iter().any(|page| page.title.contains("; ")), "{}", tiles.len());
    for (page, number) in pages.iter().zip(1..).filter(|(page, _)| with_tile(page)) {
        assert!(page.title.contains("Holes harness_bar") && !kept.contains(&number), "{number}: {}", page.title);
    }
}
