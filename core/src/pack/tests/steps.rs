//! Every step of the fit-up order says what to do, where, and what the part rests on.

use super::{demo_sheets, document, measured_sheets};
use crate::drawing::{Lettering, Text, Weight};
use crate::pack::fixture::issue;
use crate::pack::*;
use crate::render::Page;
use crate::sheets::StepKind;

fn words(sheets: &Sheets, issue: &Issue, title: &str) -> String {
    let pages = document(sheets, issue).expect("renders").0.pages;
    let texts = pages.iter().filter(|page| page.title == title).flat_map(|page| page.drawing.texts());
    texts.map(|text| text.content.as_str()).collect::<Vec<_>>().join(" ")
}

/// What a step says, from its head to the next one's.
fn step<'a>(fit_up: &'a str, sheets: &Sheets, mark: &str) -> &'a str {
    let step = sheets.fit_up.steps.iter().find(|step| step.member == mark && step.kind != StepKind::Trim);
    let step = step.unwrap_or_else(|| panic!("{mark}"));
    let next = &sheets.fit_up.steps[step.number];
    let from = fit_up.find(&format!("{} {mark} ", step.number)).unwrap_or_else(|| panic!("{mark}: {fit_up}"));
    let rest = &fit_up[from..];
    let heads = ["", "Trim ", "After "].map(|kind| format!("{} {kind}{}", next.number, next.member));
    &rest[..heads.iter().filter_map(|head| rest.find(head.as_str())).min().unwrap_or(rest.len())]
}

#[test]
fn a_step_with_a_plate_says_where_it_goes_and_which_page_has_its_template() {
    let sheets = demo_sheets();
    for hands in [Hands::Both, Hands::Left] {
        let mut issue = issue(Paper::A4, Status::Issued);
        issue.print.hands = hands;
        let fit_up = words(&sheets, &issue, "Fit-up order");
        let pages = document(&sheets, &issue).expect("renders").0;
        for plate in &sheets.plates {
            let said = step(&fit_up, &sheets, &plate.plate);
            let page = said.split("template: page \"").nth(1).unwrap_or_else(|| panic!("{said}"));
            let (title, rest) = page.split_once('"').expect("a title");
            assert!(title.split([' ', ',']).any(|name| name == plate.plate), "{said}");
            let is_there = pages.outline.iter().any(|entry| entry.title == title);
            assert_eq!(is_there, hands.shows(&plate.plate), "{title}");
            assert_eq!(rest.starts_with(" of the pack of the other hand"), !is_there, "{said}");
            match &plate.on {
                Some(member) => assert!(said.contains(&format!("on {member}, its zero point ")), "{said}"),
                None => assert!(said.contains("its zero point at x "), "{said}"),
            }
        }
    }
}

/// By the demo's document: its bed lies at z = -4; rails of 40 run at z = 25, the front hoop is cut at z = 0, plates lie at z = -4.
#[test]
fn a_step_says_what_holds_its_part_over_the_bed() {
    let sheets = demo_sheets();
    let issue = issue(Paper::A4, Status::Issued);
    let fit_up = words(&sheets, &issue, "Fit-up order");
    for (mark, said) in [
        ("sill.L", "level, its underside 9 mm over the base plane: on packers of 9 mm"),
        ("footwell_rail.R", "level, its underside 9 mm over the base plane: on packers of 9 mm"),
        ("seat_rear", "level, its underside 10 mm over the base plane: on packers of 10 mm"),
        ("front_hoop", "both ends stand 4 mm over the base plane: on packers of 4 mm"),
        ("hoop_plate.R", "lies on the base plane"),
    ] {
        let step = step(&fit_up, &sheets, mark);
        assert!(step.contains(said), "{said}: {step}");
    }
    for mark in ["main_hoop", "bay_rail.L", "spring_beam", "box_post.L", "belt_pad.R"] {
        let step = step(&fit_up, &sheets, mark);
        assert!(!step.contains("packer") && !step.contains("base plane"), "{step}");
    }
    let about = words(&sheets, &issue, "Frame, notes and zero");
    assert!(about.contains("hoop_plate.L, hoop_plate.R lie on it; what stands higher is held by packers"), "{about}");
    assert!(!fit_up.contains("flat on the bed"), "{fit_up}");
}

/// Where a check on a bent tube is measured, a builder finds without a scribed line.
#[test]
fn a_check_on_a_bent_tube_says_how_far_round_it_lies() {
    use crate::geometry::DVec3;
    let sheets = demo_sheets();
    let sides = [
        ("forward", DVec3::X),
        ("back", -DVec3::X),
        ("left", DVec3::Y),
        ("right", -DVec3::Y),
        ("up", DVec3::Z),
        ("down", -DVec3::Z),
    ];
    let side = |word: &str| sides.iter().find(|(known, _)| *known == word.trim_end_matches(',')).expect("a side").1;
    let made = sheets.made.as_ref().expect("a frame");
    let mut seen = 0;
    for row in &sheets.checks {
        for (words, at) in row.between.iter().zip([row.from, row.to]) {
            let (words, at) = (say::place(words), DVec3::from_array(at));
            let Some(member) = ["main_hoop", "front_hoop"].into_iter().find(|mark| words.starts_with(mark)) else {
                continue;
            };
            let path = &made.frame.members[made.member(member).expect("a hoop")].path;
            // The leg on whose outside the point lies.
            let leg = path.legs.iter().min_by(|a, b| {
                let off = |leg: &crate::geometry::Leg| {
                    let along = (at - leg.start).dot(leg.direction).clamp(0.0, leg.length);
                    (leg.start + leg.direction * along).distance(at)
                };
                off(a).total_cmp(&off(b))
            });
            let leg = leg.expect("legs");
            let out = (at - leg.start).reject_from_normalized(leg.direction).normalize();
            let from =
                words.split("the side that faces ").nth(1).and_then(|rest| rest.split(' ').next()).expect("a side");
            let middle = side(from).reject_from_normalized(leg.direction).normalize();
            let turned = match words.split(" deg round from ").next().filter(|_| words.contains(" deg round from ")) {
                Some(before) => before.rsplit(' ').next().and_then(|word| word.parse::<f64>().ok()).expect("degrees"),
                None => 0.0,
            };
            assert!((middle.dot(out).clamp(-1.0, 1.0).acos().to_degrees() - turned).abs() < 0.51, "{words}");
            if let Some(towards) = words.split(" towards ").nth(1).and_then(|rest| rest.split(' ').next()) {
                assert!(side(towards).dot(out) > 0.0, "{words}");
            }
            seen += 1;
        }
    }
    assert!(seen >= 4, "{seen}");
}

/// What is written of a figure in inches cannot be read as another one.
#[test]
fn a_fraction_follows_no_other_figure() {
    let mut issue = issue(Paper::Letter, Status::Issued);
    issue.print.units = Units::InchFraction;
    let pages = document(&demo_sheets(), &issue).expect("renders").0.pages;
    for Page { title, drawing, .. } in &pages {
        for text in drawing.texts() {
            let words: Vec<&str> = text.content.split(' ').collect();
            let is_whole = |word: &str| !word.is_empty() && word.bytes().all(|byte| byte.is_ascii_digit());
            let is_fraction = |word: &str| {
                word.trim_end_matches([',', ';', ':']).split_once('/').is_some_and(|(a, b)| is_whole(a) && is_whole(b))
            };
            for three in words.windows(3) {
                let two_lengths = is_whole(three[0]) && is_whole(three[1]) && is_fraction(three[2]);
                assert!(!two_lengths, "{title}: {}", text.content);
            }
        }
    }
}

#[test]
fn a_part_number_is_never_broken() {
    let sheets = measured_sheets();
    for paper in [Paper::A4, Paper::Letter] {
        let pages = document(&sheets, &issue(paper, Status::Issued)).expect("renders").0.pages;
        let numbers: Vec<&str> = sheets.parts.iter().map(|part| part.number.as_str()).collect();
        assert!(numbers.iter().any(|number| number.ends_with("/M")));
        for Page { title, drawing, .. } in &pages {
            for text in drawing.texts() {
                let said = text.content.as_str();
                let is_rest = said == "M" || said.starts_with("M ") || said == "1/M";
                let is_head = numbers.iter().any(|number| {
                    let cut = |at: char| number.rfind(at).map(|to| &number[..=to]);
                    [cut('-'), cut('/')].into_iter().flatten().any(|head| said.ends_with(head))
                });
                assert!(!is_rest && !is_head, "{title}: {said}");
            }
        }
    }
}

/// Point 0 of a plate stands on no side of which the label goes on: pack, kit, part number and size are read together.
#[test]
fn the_label_of_a_plate_is_not_split_round_its_centre() {
    let sheets = demo_sheets();
    let mut looked_at = 0;
    for (paper, units) in [(Paper::A4, Units::Mm), (Paper::Letter, Units::InchFraction), (Paper::Letter, Units::Inch)] {
        let mut issue = issue(paper, Status::Issued);
        issue.print.units = units;
        let pages = document(&sheets, &issue).expect("renders").0.pages;
        for plate in &sheets.plates {
            let title = |page: &&Page| page.title.starts_with("Plate") && page.title.contains(&plate.plate);
            let page = pages.iter().find(title).unwrap_or_else(|| panic!("{}", plate.plate));
            let texts: Vec<&Text> = page.drawing.texts().collect();
            let small = |text: &&&Text| text.lettering == Lettering::Small && text.face == Weight::Bold;
            let number = texts.iter().filter(small).filter(|text| text.content.contains(&plate.part_number));
            for label in number {
                let near =
                    |text: &&&Text| (text.at[1] - label.at[1]).abs() < 25.0 && (text.at[0] - label.at[0]).abs() < 60.0;
                let own: Vec<&&Text> = texts.iter().filter(small).filter(near).collect();
                let zero = texts.iter().find(|text| text.content == "0" && near(text));
                let Some(zero) = zero else { continue };
                let is_above = |text: &&&&Text| text.at[1] > zero.at[1];
                let is_left = |text: &&&&Text| text.at[0] < zero.at[0];
                let (above, left) = (own.iter().filter(is_above).count(), own.iter().filter(is_left).count());
                let is_one_side = [0, own.len()].contains(&above) || [0, own.len()].contains(&left);
                assert!(
                    is_one_side,
                    "{} on {paper:?}: {:?}",
                    plate.plate,
                    own.iter().map(|text| (&text.content, text.at)).collect::<Vec<_>>()
                );
                looked_at += 1;
            }
        }
    }
    assert!(looked_at > 5, "{looked_at}");
}
