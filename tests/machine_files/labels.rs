//! Labels read back: their words, and their codes from a picture of the page.

use crate::readers::{figures, python};
use crate::written::{BENCH, DEMO};
use matchmark_core::Stop;
use matchmark_export::{LabelSheet, Subject, labels_pdf};
use std::collections::BTreeMap;

#[test]
fn every_part_has_a_label_with_a_code_that_leads_to_its_state() {
    for frame in [&DEMO, &BENCH] {
        let (files, _) = frame.written(&["labels"]);
        let read = python("read_labels.py", &files);
        let pages = read.as_array().unwrap();
        let subject = frame.subject();
        let mut wanted: Vec<String> = Vec::new();
        for row in &subject.sheets.parts {
            wanted.extend(row.members.iter().map(|_| format!("https://packs.example/kits/QF-0101#{}", row.number)));
        }
        let mut codes: Vec<String> = pages
            .iter()
            .flat_map(|page| page["codes"].as_array().unwrap())
            .map(|code| code.as_str().unwrap().to_owned())
            .collect();
        wanted.sort();
        codes.sort();
        assert_eq!(codes, wanted);
        assert_eq!(pages.len(), wanted.len().div_ceil(24));
        let text: String = pages.iter().map(|page| page["text"].as_str().unwrap()).collect();
        for row in &subject.sheets.cut_sheet.rows {
            assert!(text.contains(&row.member) && text.contains(&row.part_number), "{}", row.member);
        }
        assert!(text.contains("revision B of 2026-11-25") && text.contains("kit QF-0101"), "{text}");
        for pair in subject.sheets.pairs.iter().filter(|pair| pair.handed) {
            assert!(text.contains("LEFT") && text.contains("RIGHT"), "{}", pair.left);
        }
    }
}

#[test]
fn labels_stand_where_the_sheet_has_them() {
    let labels = LabelSheet { paper: [215.9, 279.4], label: [101.6, 50.8], gap: [3.0, 0.0], taken: 3 };
    let frame = &BENCH;
    let pdf = labels_pdf(&Subject { labels, ..frame.subject() }, Stop::NEVER).unwrap();
    let read = python("read_labels.py", &BTreeMap::from([("labels.pdf".to_owned(), pdf)]));
    let [width, height] = figures(&read[0]["size"]);
    assert!((width - 215.9).abs() < 0.1 && (height - 279.4).abs() < 0.1, "{width} {height}");
    // Two across, five down; three are taken.
    assert_eq!(read[0]["codes"].as_array().unwrap().len(), 7);
    for wrong in [
        LabelSheet { label: [300.0, 36.0], ..LabelSheet::default() },
        LabelSheet { label: [20.0, 10.0], ..LabelSheet::default() },
        LabelSheet { taken: 24, ..LabelSheet::default() },
        LabelSheet { gap: [f64::NAN, 0.0], ..LabelSheet::default() },
    ] {
        let error = labels_pdf(&Subject { labels: wrong, ..frame.subject() }, Stop::NEVER).unwrap_err();
        assert_eq!(error.code(), "labels-do-not-fit");
    }
}
