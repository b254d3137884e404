//! Two packs of one kit, the second after its hoop was measured: every piece that is cut out of either says which it is of, as an
//! independent reader finds it.

use super::reader::{Page, issue, read};
use matchmark_core::document::OneKit;
use matchmark_core::pack::{self, Issue, Paper};
use matchmark_core::sheets::{End, Sheets};

const DEMO: &str = include_str!("../../server/demo/rev_b.json");

fn sheets(measured: &[(&str, f64)]) -> Sheets {
    let measured = measured.iter().map(|(gauge, mm)| ((*gauge).to_owned(), *mm)).collect();
    let mut evaluation = matchmark_core::evaluate_for(DEMO, &OneKit { measured, ..OneKit::default() });
    evaluation.number(None);
    evaluation.sheets.expect("the demo has no errors")
}

/// What a piece says of itself, in full or in short, without spaces: a line may end anywhere.
fn says(pages: &[Page], title: &str, pack: &str, number: &str, measured: &str, size: [&str; 2]) -> bool {
    let facts = [
        format!("pack {pack}, kit BW-0001, part {number}{measured}, {}", size[0]),
        format!("P.{pack} BW-0001 {number} {}", size[1]),
    ];
    let bare = |text: &str| text.replace(' ', "");
    let named = pages.iter().filter(|page| page.text.contains(title)).map(|page| bare(&page.text));
    named.into_iter().any(|text| facts.iter().any(|fact| text.contains(&bare(fact))))
}

#[test]
fn pieces_of_two_packs_of_one_kit_are_told_apart() {
    let (drawn, measured) = (sheets(&[]), sheets(&[("hoop_spread", 1124.0)]));
    for paper in [Paper::A4, Paper::Letter, Paper::A3, Paper::Roll] {
        let mut changed = 0;
        for (sheets, number, mark) in [(&drawn, "P-0001", ""), (&measured, "P-0002", "/M")] {
            let issue = Issue { pack_number: number.to_owned(), ..issue(paper) };
            let pages = read(&pack::render(sheets, &issue).expect("a pack").pdf);
            let note = |part: &str| if !mark.is_empty() && part.contains(mark) { " as measured" } else { "" };
            for wrap in &sheets.wraps {
                let end = if wrap.end == End::From { 1 } else { 2 };
                let overall = format!("{:.1}", wrap.overall);
                let size = [&*format!("overall {overall} mm"), &*overall];
                let part = wrap.part_number.as_str();
                changed += usize::from(!note(part).is_empty());
                let title = format!("{}, end {end}", wrap.member);
                assert!(says(&pages, &title, number, part, note(part), size), "{title} on {paper:?} in {number}");
            }
            for plate in &sheets.plates {
                let [width, height] = plate.size.map(|mm| format!("{mm:.1}"));
                let size = [&*format!("{width} x {height} mm"), &*format!("{width} x {height}")];
                let part = plate.part_number.as_str();
                // On a small plate each fact stands where there is room.
                let facts = [&*format!("P.{number}"), "BW-0001", part, size[1]];
                let singly =
                    |page: &Page| page.text.contains(&plate.plate) && facts.iter().all(|fact| page.text.contains(fact));
                assert!(
                    says(&pages, &plate.plate, number, part, note(part), size) || pages.iter().any(singly),
                    "{} on {paper:?} in {number}",
                    plate.plate
                );
            }
            for strip in &sheets.strips {
                let row = sheets.cut_sheet.rows.iter().find(|row| row.member == strip.member).expect("a row");
                let overall = format!("{:.1}", row.overall);
                let size = [&*format!("overall {overall} mm"), &*overall];
                let (title, part) = (format!("Holes {}", strip.member), row.part_number.as_str());
                assert!(says(&pages, &title, number, part, note(part), size), "{title} on {paper:?} in {number}");
            }
        }
        assert!(changed > 4, "{changed}");
    }
}
