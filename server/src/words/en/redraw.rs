//! The form that has a pack drawn.

use crate::words::groups::redraw::Redraw;

pub const WORDS: Redraw = Redraw {
    builder_heading: "Have the pack drawn again: kit {serial}",
    builder_button: "Have the pack drawn again",
    desk_heading: "Issue a pack: kit {serial}",
    desk_button: "Issue a pack",
    about: "The new pack replaces the last one: cross that one out. It fits everything that was measured on the frame until now.",
    paper_label: "Paper",
    units_label: "Lengths in",
    units_mm: "millimetres",
    units_inch: "decimal inches",
    units_fraction: "inches and 64ths",
    hands_label: "Templates of",
    hands_hint: "Every pack has the parts of neither hand.",
    hands_both: "both hands",
    hands_left: "the left hand only",
    hands_right: "the right hand only",
    thickness_label: "Thickness of the paper",
    thickness_hint: "mm, 0 to 0.5; 0.1 is common office paper.",
    bar_across_label: "Check bar across",
    bar_up_label: "Check bar up",
    bar_hint: "What the bar measures on an earlier print. It is 100 mm on a true printer, or 4 in when lengths are in inches. Leave it empty to keep the value of the last pack.",
    no_number: "Give a number, such as 99.5.",
    one_bar: "Measure both bars, or leave both empty.",
    sure_heading: "Issue a new pack for kit {serial}?",
    sure_replaced: "Pack {number} of revision {revision}, issued {day}, is replaced. Whoever scans one of its pages is told to cross it out and use the new one.",
    sure_left_stays: "Pack {number} of revision {revision}, issued {day}, stays for the left hand only. Whoever scans one of its pages is told to use the new one for the right hand and for the parts of neither hand.",
    sure_right_stays: "Pack {number} of revision {revision}, issued {day}, stays for the right hand only. Whoever scans one of its pages is told to use the new one for the left hand and for the parts of neither hand.",
    sure_beside_left: "Pack {number} of revision {revision}, issued {day}, stays for the left hand, and the new one goes beside it.",
    sure_beside_right: "Pack {number} of revision {revision}, issued {day}, stays for the right hand, and the new one goes beside it.",
    sure_tell: "Tell the builder to print the new pack.",
    sure_yes: "Yes, issue it",
    back: "Back to the kit",
}
.checked();
