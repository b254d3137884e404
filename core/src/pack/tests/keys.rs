//! What the account of a pack says stands on each page, and the same of packs drawn before it said so.

use super::delta::{issue_of, pages_before};
use super::{demo_revisions, demo_sheets, sealed};
use crate::pack::kinds::changes::kept;
use crate::pack::*;
use crate::sheets::End;
use crate::words::EN;

/// The title that a sheet had before accounts said what stands on each page.
fn title_of_that_time(on: &OnPage) -> String {
    let parts = on.parts.join(", ");
    match (on.kind, on.end) {
        (SheetKind::Wrap, Some(End::From)) => format!("Wrap {parts}, from end"),
        (SheetKind::Wrap, _) => format!("Wrap {parts}, to end"),
        (SheetKind::Plate, _) if on.parts.len() > 1 => format!("Plates {parts}"),
        (SheetKind::Plate, _) => format!("Plate {parts}"),
        (SheetKind::HoleStrip, _) => format!("Holes {parts}"),
        (SheetKind::BendSheet, _) => format!("Bend sheet {parts}"),
        (SheetKind::JigSheet, _) => format!("Jig sheet {parts}"),
        (SheetKind::PartsList, _) => "Parts list".to_owned(),
        (SheetKind::Pairs, _) => "Left and right parts".to_owned(),
        (SheetKind::CutSheet, _) => "Cut sheet".to_owned(),
        (SheetKind::FitUp, _) => "Fit-up order".to_owned(),
        (SheetKind::Checks, _) => "Check dimensions".to_owned(),
        _ => "Cover".to_owned(),
    }
}

#[test]
fn every_page_of_the_account_says_what_stands_on_it() {
    let sheets = demo_sheets();
    let pack = render(&sheets, &sealed(Paper::A4)).expect("renders");
    for page in &pack.manifest.pages {
        let titles: Vec<&str> = page.holds.iter().map(|on| on.title.as_str()).collect();
        assert!(!titles.is_empty(), "{}", page.page);
        assert_eq!(page.title, titles.join("; "));
        // Templates are of parts, and a wrap is of one end of one part.
        let of_parts = page.holds.iter().all(|on| !on.parts.is_empty());
        assert!(of_parts || !page.true_scale || page.holds[0].kind == SheetKind::Printing, "{}", page.title);
    }
    let on_pages = || pack.manifest.pages.iter().flat_map(|page| &page.holds);
    for wrap in &sheets.wraps {
        let is_it =
            |on: &&OnPage| on.kind == SheetKind::Wrap && on.end == Some(wrap.end) && on.parts == [wrap.member.as_str()];
        assert_eq!(on_pages().filter(is_it).count(), 1, "{} {:?}", wrap.member, wrap.end);
    }
    for plate in &sheets.plates {
        assert!(on_pages().any(|on| on.kind == SheetKind::Plate && on.parts.contains(&plate.plate)), "{}", plate.plate);
    }
    let json = serde_json::to_value(&pack.manifest).expect("JSON");
    let read: Vec<ListedPage> = serde_json::from_value(json["pages"].clone()).expect("pages");
    for (page, listed) in pack.manifest.pages.iter().zip(&read) {
        assert_eq!(page.holds, listed.holds());
    }
}

/// Both accounts of one pack, with what stands on its pages and with titles of that time alone, have the same pages kept and crossed out.
#[test]
fn a_pack_from_before_accounts_said_so_is_kept_by_its_titles() {
    let ([old, _], changes) = demo_revisions();
    let pages = pages_before(&old, Paper::A4);
    let by_title = pages.iter().map(|page| {
        let title = page.holds.iter().map(title_of_that_time).collect::<Vec<_>>().join("; ");
        let json = serde_json::json!({"page": page.page, "title": title, "true_scale": true});
        let listed: ListedPage = serde_json::from_value(json).expect("a page");
        PageBefore { holds: listed.holds(), ..page.clone() }
    });
    let by_title: Vec<PageBefore> = by_title.collect();
    let kept = |pages: Vec<PageBefore>| {
        let since = issue_of(changes.clone(), pages, Paper::A4).since.expect("a pack before");
        kept(&since, &EN)
    };
    let [by_key, by_title] = [pages, by_title].map(kept);
    assert_eq!((&by_key[0].whole, &by_key[0].void), (&by_title[0].whole, &by_title[0].void));
    let in_part = |kept: &KeptPages| kept.in_part.iter().map(|part| part.pages.clone()).collect::<Vec<_>>();
    assert_eq!(in_part(&by_key[0]), in_part(&by_title[0]));
    assert!(by_key[0].whole.len() > 20 && by_key[0].void.len() > 10 && by_key[0].in_part.len() > 3, "{by_key:?}");
}
