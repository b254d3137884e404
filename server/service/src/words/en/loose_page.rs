//! How a page stands that belongs to no pack: of a stop sheet, or of a notice.

use crate::words::groups::loose_page::LoosePage;

pub const WORDS: LoosePage = LoosePage {
    recalled_again: "Recalled: stop. Revision {letter} was recalled again on {day}, after this stop sheet of kit {serial} was drawn. Read the new one before you cut, weld or use anything.",
    stop_sheet: "Recalled: stop. This is page {page} of {pages} of the stop sheet of revision {letter} for kit {serial}. Read it to the end before you cut, weld or use anything.",
    recall_ended: "Ended: revision {letter} was recalled when this stop sheet of kit {serial} was drawn, and was put in force again on {day}. The supplier says why: \"{reason}\" Read the page of your kit before you go on.",
    notice_stopped: "Recalled: stop. Revision {letter}, which has the change of notice {notice} for kit {serial}, was recalled by the supplier. Do none of its work, and use none of the parts made for it, until the supplier says how.",
    done: "Done: the work of notice {notice} was reported as done for kit {serial} on {day}. There is nothing left to do on this page. Keep it: the parts that it names are now made as it shows.",
    measured_since: "Superseded: a value of kit {serial} was measured or taken back after this page was drawn. Fetch the pages of notice {notice} again, and cross this page out.",
    done_then_measured: "Superseded: the work of notice {notice} was reported as done for kit {serial} on {day}, and this page is drawn with other measured values than the kit has now. If parts were made from it, keep it with them. Download the pages of the notice again, compare those parts with their finished size there, and ask the supplier about what is too short.",
    compare: "Compare: the work of notice {notice} was reported as done for kit {serial} on {day}, and values of the kit were told after the notice was raised. Parts made from pages of the same set as this one stay as they are. Compare all others with their finished size here, change only what still differs, and ask the supplier about what is too short.",
    pack_since: "Superseded: kit {serial} got another pack after this page was drawn. Fetch the pages of notice {notice} again, and cross this page out.",
    kit_moved: "Current: a page of the pages of notice {notice} for kit {serial}. The kit has revision {revision} now: use it only to change parts that were made before that. Which pages of its packs stay valid is said by its later packs.",
    current: "Current: page {page} of {pages} of the pages of notice {notice} for kit {serial}, to revision {letter}, {day}. Use them with the kit's pack, for the parts that they name.",
}
.checked();
