//! The reader of packs drawn before their accounts said what stands on each page: by the titles of that time, all in English. Nothing is
//! added here. Those packs are as they are.

use super::{OnPage, SheetKind};
use crate::sheets::End;

/// What stands on a page with this title.
pub(super) fn read(title: &str) -> Vec<OnPage> {
    title.split("; ").map(one).collect()
}

fn one(title: &str) -> OnPage {
    let mark = |rest: &str| vec![rest.split([',', ' ']).next().unwrap_or_default().to_owned()];
    if let Some(rest) = title.strip_prefix("Wrap ") {
        let end = if rest.ends_with(", from end") { End::From } else { End::To };
        return OnPage { end: Some(end), ..OnPage::of_parts(SheetKind::Wrap, mark(rest), title) };
    }
    let of_one_part =
        [("Holes ", SheetKind::HoleStrip), ("Bend sheet ", SheetKind::BendSheet), ("Jig sheet ", SheetKind::JigSheet)];
    for (prefix, kind) in of_one_part {
        if let Some(rest) = title.strip_prefix(prefix) {
            return OnPage::of_parts(kind, mark(rest), title);
        }
    }
    if let Some(rest) = title.strip_prefix("Plates ").or_else(|| title.strip_prefix("Plate ")) {
        return OnPage::of_parts(SheetKind::Plate, rest.split(", ").map(str::to_owned).collect(), title);
    }
    let kind = match title {
        "Cover" => SheetKind::Cover,
        "Where to find each part" => SheetKind::ListOfPages,
        "What changed" => SheetKind::Changes,
        "Notices" => SheetKind::Notices,
        "Frame, notes and zero" => SheetKind::About,
        "How to print and check scale" => SheetKind::Printing,
        "Parts list" => SheetKind::PartsList,
        "Left and right parts" => SheetKind::Pairs,
        "Cut sheet" => SheetKind::CutSheet,
        "Stock plan" => SheetKind::StockPlan,
        "Fit-up order" => SheetKind::FitUp,
        "Check dimensions" => SheetKind::Checks,
        _ if title.starts_with("Stop sheet ") => SheetKind::StopSheet,
        // Three views and the pictorial one were all that was left.
        _ => SheetKind::Drawings,
    };
    OnPage::of_frame(kind, title)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Titles as `matchmark-manifest/1` had them.
    #[test]
    fn the_titles_of_that_time_tell_kinds_parts_and_ends() {
        let known = |kind, parts: &[&str], end| (kind, parts.iter().map(|part| (*part).to_owned()).collect(), end);
        for (title, holds) in [
            ("Cover", vec![known(SheetKind::Cover, &[], None)]),
            (
                "Wrap sill.L, from end; Wrap sill.L, to end",
                vec![
                    known(SheetKind::Wrap, &["sill.L"], Some(End::From)),
                    known(SheetKind::Wrap, &["sill.L"], Some(End::To)),
                ],
            ),
            (
                "Plates pad.L, pad.R; Plate floor",
                vec![known(SheetKind::Plate, &["pad.L", "pad.R"], None), known(SheetKind::Plate, &["floor"], None)],
            ),
            ("Holes main_hoop after bend 1", vec![known(SheetKind::HoleStrip, &["main_hoop"], None)]),
            ("Bend sheet main_hoop", vec![known(SheetKind::BendSheet, &["main_hoop"], None)]),
            ("Jig sheet main_hoop", vec![known(SheetKind::JigSheet, &["main_hoop"], None)]),
            ("Check dimensions", vec![known(SheetKind::Checks, &[], None)]),
            ("Frame, pictorial", vec![known(SheetKind::Drawings, &[], None)]),
            ("Stop sheet of revision A", vec![known(SheetKind::StopSheet, &[], None)]),
        ] {
            let read: Vec<(SheetKind, Vec<String>, Option<End>)> =
                read(title).into_iter().map(|on| (on.kind, on.parts, on.end)).collect();
            assert_eq!(read, holds, "{title}");
        }
    }
}
