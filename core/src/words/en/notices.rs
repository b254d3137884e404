//! What the pages of notices say.

use crate::words::groups::notices::Notices;

pub(in crate::words) static WORDS: Notices = Notices {
    mandatory: "mandatory",
    recommended: "recommended",
    optional: "optional",
    what_they_are: "What the supplier has told the holders of kits like this one, and what was not reported as done by the date of issue of these pages. Read each before you cut anything. When its work is done, sign it here and report it on the page of your kit, or to the supplier.",
    heading: "Notice {number}, {class}, {date}: revision {from} to {to}",
    heading_done: "Notice {number}, {class}: revision {from} to {to}, done on {day}",
    stop_the_work: "Stop: revision {to}, which has the change, was recalled since. Do none of the work of this notice, and make none of the parts that it changes, old or new, until the supplier says how.",
    stop_the_parts: "Stop: revision {to}, from which its parts were made, was recalled since. Use none of them, and make none anew, until the supplier says how.",
    work_is_listed: "Its work is in the list of what changed, the pages after these.",
    work_is_unknown: "What is to be done to this kit could not be worked out: ask the supplier before you cut.",
    pack_has_change: "This pack is of revision {revision}, which has the change. The wraps named below are in this pack, or in the kit's first pack of this revision.",
    pack_lacks_change: "This pack is of revision {revision}, from before the change. Make none of the parts listed below from its pages. The wraps named are those of revision {to}: they are in the pages of this notice, which are on the page of your kit, and which the supplier sends you.",
    list_counts: "For every part that the list of what changed names too, that list counts, and not this one: read it first.",
    notice_counts: "For the parts below this notice counts, and the list of what changed does not.",
    measured: "Values of this kit were measured, and the list below is worked out for the frame as designed. The pages of this notice are worked out for the kit as measured: where they say something else, they count.",
    made_already: "Of its parts, these were made anew for notice {notice}, done on {day}: {parts}. What is listed of them counts from how they were before that: do not take it off a second time. Compare each with its finished size, and change only what still differs.",
    was_done_before: "This was reported as done before the kit got revision {revision}, which has the change: the parts listed below are made already. Keep them as they were made for the notice, and do none of this again.",
    was_done_before_remeasured: "This was reported as done before the kit got revision {revision}, which has the change, and values of the kit were told after it was raised: the parts listed below may be made to other values. Compare each with its finished size in this pack, change only what still differs, and ask the supplier about what is too short.",
    remeasured: "Values of the kit were told after the notice was raised: download its pages again, compare each part that was made from pages of another set with its finished size in them, and ask the supplier about what is too short.",
    was_done: "This was reported as done. This pack is of revision {revision}, from before the change: the parts listed below are those of the pages of the notice now. Cross out their templates in this pack, and make none of them from it.",
    parts_are_unknown: "Which parts these are could not be worked out: ask the supplier before you cut.",
    done_on: "Notice {number} done on",
    done_by: "by",
}
.checked();
