//! What page kinds are called in the contents. The English stands here too, so that a page kind is one line here and one there.

crate::phrases! {
    /// What page kinds are called in the contents.
    Kinds {
        stop_sheets();
        notices();
        changes();
        about();
        printing();
        drawings();
        parts_list();
        pairs();
        cut_sheet();
        stock_plan();
        bend_sheets();
        jig_sheets();
        fit_up();
        checks();
        wraps();
        plates();
        hole_strips();
    }
}

/// English.
pub(in crate::words) mod en {
    use super::Kinds;

    pub(in crate::words) static WORDS: Kinds = Kinds {
        stop_sheets: "Stop sheets",
        notices: "Notices",
        changes: "What changed",
        about: "Frame, notes and zero",
        printing: "How to print and check scale",
        drawings: "Drawings",
        parts_list: "Parts list",
        pairs: "Left and right parts",
        cut_sheet: "Cut sheet",
        stock_plan: "Stock plan",
        bend_sheets: "Bend sheets",
        jig_sheets: "Jig sheets",
        fit_up: "Fit-up order",
        checks: "Check dimensions",
        wraps: "Wraps, true scale",
        plates: "Plates, true scale",
        hole_strips: "Hole strips, true scale",
    }
    .checked();
}
