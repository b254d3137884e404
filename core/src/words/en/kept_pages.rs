//! Which pages of the packs before stay valid.

use crate::words::Plural;
use crate::words::groups::kept_pages::KeptPages;

pub(in crate::words) static WORDS: KeptPages = KeptPages {
    heading: "What stays valid of pack {pack}",
    keep_whole: "keep, whole",
    cross_out_whole: "cross out, whole",
    pages: "pages {numbers}",
    no_pages: "pages none",
    in_part: "Keep these but for what is crossed out:",
    head_pages: "pages",
    head_what: "what they are",
    head_cross_out: "cross out on them",
    heading_by_kind: "What stays valid of the pages before",
    keep: "keep",
    cross_out: "cross out",
    sheets_but_for: "wraps, plates, hole strips, bend sheets and jig sheets, but for those below",
    sheets_of: "wraps, hole strips and bend sheets of {parts}",
    sheets_of_none: "wraps, hole strips and bend sheets of no part",
    plates_of: "plates of {parts}",
    plates_of_none: "plates of no part",
    jig_sheets_of: "jig sheets of {parts}",
    jig_sheets_of_none: "jig sheets of no part",
    parts_list: "parts list",
    pairs: "left and right parts",
    cut_sheet: "cut sheet",
    fit_up: "fit-up order",
    checks: "check dimensions",
    keep_it_but: "keep it, but cross out {cross_out}",
    other_pages: "all other pages",
    on: "{cross_out} of {page}",
    marks: "the marks {parts}",
    rows: "the rows of {parts}",
    rows_of_cut_sheet: "the rows of {parts}; the total, and what is said of the whole frame",
    places: "the places {parts}, each row that is then left without places, and the total",
    steps: "steps {steps}",
    range: "{first} to {last}",
    check_dimensions: Plural {
        one: "the {count} check dimension that \"What changed\" lists with a figure before",
        other: "the {count} check dimensions that \"What changed\" lists with a figure before",
    },
}
.checked();
