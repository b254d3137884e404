//! A notice on the page of a kit, and its answers.

use crate::words::groups::kit_notice::KitNotices;

pub const WORDS: KitNotices = KitNotices {
    heading: "Notice {number}: {class}",
    step: "{day}, from revision {from} to {to}.",
    stopped: "Stop: revision {revision} has since been recalled. Do none of this work until the supplier says how.",
    pages_link: "Download the rework pages (PDF)",
    answer_for_holder: "Answer only when the holder of the kit has told you so. The record says that you answered on behalf of the holder.",
    seen_button: "Seen",
    seen_button_desk: "The holder has seen it",
    seen: "Seen {when}.",
    done_button: "Done",
    done_button_desk: "The holder has done it",
    work_unknown: "The service could not compute what this means for your parts. Ask the supplier.",
    held: "On hold: do none of the work of this notice, and use none of the parts that it is about, until the supplier lifts the hold. What is to be done is shown here again then.",
    sheet_first: "Read the stop sheet first, and do none of the work of this notice before that. What is to be done is shown here again once the stop sheet is acknowledged.",
    as_designed: "Values of this kit were measured, and the list above is worked out for the frame as designed. The rework pages are worked out for the kit as measured: where they say something else, they count.",
    made_already: "Notice {notice}, done on {day}, had these made anew already: {parts}. What is listed of them here counts from how they were before that: do not take it off a second time. Compare each with its finished size, and change only what still differs.",
    work_in_english: "An earlier version of this service wrote this work down in English, with lengths in mm.",
    work_line: "{part}: {work}",
    done_sure_heading: "Is all the work of notice {number} done on kit {serial}?",
    done_sure_about: "Packs issued from then on no longer include notice {number}, and nobody is asked about it again. This cannot be undone.",
    done_sure_desk: "The record says that you answered on behalf of the holder of kit {serial}.",
    done_sure_yes: "Yes, all of it is done",
    done_sure_yes_desk: "Yes, the holder has done all of it",
}
.checked();
