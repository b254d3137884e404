//! How a page stands that belongs to no pack: of a stop sheet, or of a notice.

use crate::words::groups::loose_page::LoosePage;

pub const WORDS: LoosePage = LoosePage {
    recalled_again: "Recalled: stop. Revision {letter} was recalled again on {day}, after this stop sheet of kit {serial} was drawn. Read the new one before you cut, weld or use anything.",
    stop_sheet: "Recalled: stop. This is page {page} of {pages} of the stop sheet of revision {letter} for kit {serial}. Read it to the end before you cut, weld or use anything.",
    recall_ended: "Ended: revision {letter} was recalled when this stop sheet of kit {serial} was drawn, and was put in force again on {day}. The supplier says why: \"{reason}\" Read the page of your kit before you go on.",
    recalled: "Recalled: stop. Revision {letter} was recalled by the supplier. Read the stop sheet for kit {serial} before you cut, weld or use anything.",
    done: "Done: the work of notice {notice} was reported as done for kit {serial} on {day}. There is nothing left to do on this page. Keep it: the parts that it names are now made as it shows.",
    measured_since: "Superseded: a value of kit {serial} was measured or taken back after this page was drawn. Fetch the pages of notice {notice} again, and cross this page out.",
    done_then_measured: "Superseded: the work of notice {notice} was reported as done for kit {serial} on {day}, and values of the kit were told after that. Keep this page: the parts that it names were made as it shows. Download the pages of the notice again, compare each part with its finished size in them, and ask the supplier about what is too short.",
    compare: "Compare only: the work of notice {notice} was reported as done for kit {serial} on {day}, and this page is drawn with values that were told after that. Do none of its work again: compare each part with its finished size here, change only what still differs, and ask the supplier about what is too short.",
    pack_since: "Superseded: kit {serial} got another pack after this page was drawn. Fetch the pages of notice {notice} again, and cross this page out.",
    kit_moved: "Current: a page of the pages of notice {notice} for kit {serial}. The kit has revision {revision} now: use it only to change parts that were made before that. Which pages of its packs stay valid is said by its later packs.",
    current: "Current: page {page} of {pages} of the pages of notice {notice} for kit {serial}, to revision {letter}, {day}. Use them with the kit's pack, for the parts that they name.",
}
.checked();
