//! Where a check is measured, in words that a builder can follow, and on which page what a step names is found.

use super::{demo_sheets, document};
use crate::pack::fixture::{issue, reckoned_sheets};
use crate::pack::*;
use crate::render::Page;
use crate::sheets::StepKind;
use std::collections::BTreeSet;

/// The number on the page of a title, in all packs of the fixture.
fn number(page: &Page) -> usize {
    let of = |text: &str| text.split_once(" of ").and_then(|(page, _)| page.parse().ok());
    page.drawing.texts().filter_map(|text| of(&text.content)).next().expect("a number")
}

#[test]
fn a_check_is_measured_from_what_is_there() {
    let sheets = demo_sheets();
    let height = sheets.checks.iter().find(|row| row.name == "harness_height").expect("a check");
    // The bar is coped to the hoop: its end has no middle to measure from.
    assert!(say::check(height).contains("from where that meets main_hoop at its end 1"), "{:?}", height.between);
    for row in &sheets.checks {
        assert!(!say::check(row).contains("the middle of its end 1"), "{}", say::check(row));
    }
}

#[test]
fn a_step_names_the_pages_of_its_checks_and_wraps() {
    let sheets = demo_sheets();
    let pages = document(&sheets, &issue(Paper::A4, Status::Issued)).expect("renders").0.pages;
    let (mut checks, mut trims) = (0, 0);
    for page in pages.iter().filter(|page| page.title == "Fit-up order") {
        let texts: Vec<_> = page.drawing.texts().collect();
        let beside = |at: [f64; 2]| {
            let same = texts.iter().filter(|text| (text.at[1] - at[1]).abs() < 0.01 && text.at[0] > at[0]);
            let words: Vec<&str> = same.map(|text| text.content.as_str()).collect();
            words.into_iter().find(|words| words.starts_with("page")).map(str::to_owned)
        };
        for text in &texts {
            if let Some(names) = text.content.strip_prefix("Check now: ") {
                let names: Vec<&str> = names.split([',', ' ']).filter(|name| !name.is_empty()).collect();
                let said = beside(text.at).unwrap_or_else(|| panic!("{}", text.content));
                let is_on = |page: &&Page| {
                    page.title == "Check dimensions"
                        && page.drawing.texts().any(|text| text.content.contains(&format!("{}:", names[0])))
                };
                let wanted = number(pages.iter().find(is_on).expect("a page"));
                assert!(said.split([' ', ',']).any(|word| word == wanted.to_string()), "{said} {wanted}");
                checks += 1;
            }
            if let Some((end, _)) = text.content.split_once(": cut off what is left long") {
                let said = beside(text.at).unwrap_or_else(|| panic!("{}", text.content));
                let is_wrap =
                    |page: &&Page| page.title.starts_with("Wrap ") && said == format!("page {}", number(page));
                let title = &pages.iter().find(is_wrap).expect("a page of wraps").title;
                let trimmed = sheets.fit_up.steps.iter().filter(|step| step.kind == StepKind::Trim);
                assert!(
                    trimmed.into_iter().any(|step| title.contains(&format!("Wrap {}, {end}", step.member))),
                    "{title}"
                );
                trims += 1;
            }
        }
    }
    assert!(checks >= 2 && trims == 8, "{checks} {trims}");
}

/// A hoop with two bars across: both diagonals between them run from the one bar to the other, on one side of one hoop.
fn hoop_with_two_bars() -> Sheets {
    let document = r#"{
        "format": "matchmark-design/1",
        "name": "Hoop",
        "materials": {"cds": {"name": "cold drawn seamless", "density": 7850}},
        "sections": {
            "hoop": {"round": {"od": 45, "wall": 2.5}, "material": "cds"},
            "bar": {"round": {"od": 38, "wall": 2.5}, "material": "cds"}
        },
        "points": {"foot.L": [0, 400, 0], "top.L": [0, 400, 1000], "low.L": [0, 400, 300], "high.L": [0, 400, 700]},
        "members": [
            {"id": "hoop", "section": "hoop", "path": ["foot.L", "top.L", "top.R", "foot.R"], "radius": 150, "ends": {"from": "square", "to": "square"}},
            {"id": "bar_low", "section": "bar", "from": "low.L", "to": "low.R"},
            {"id": "bar_high", "section": "bar", "from": "high.L", "to": "high.R"}
        ]
    }"#;
    let evaluation = crate::evaluate(document);
    evaluation.sheets.unwrap_or_else(|| panic!("{:?}", evaluation.findings))
}

/// A builder who reads a figure must know which of two dimensions it is of.
#[test]
fn no_two_check_dimensions_of_a_frame_have_the_same_name_or_the_same_words() {
    let ([first, second], _) = super::demo_revisions();
    for sheets in [first, second, super::measured_sheets(), reckoned_sheets(), hoop_with_two_bars()] {
        assert!(sheets.checks.len() > 3);
        let (mut names, mut said) = (BTreeSet::new(), BTreeSet::new());
        for check in &sheets.checks {
            assert!(names.insert(check.name.clone()), "{}", check.name);
            let words = say::check(check);
            assert!(said.insert(words.clone()), "{}: {words}", check.name);
        }
    }
}
