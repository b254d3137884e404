//! The stop sheet of a recall, and what stands in the place of the packs once it is acknowledged.

use crate::words::groups::stop_sheet::StopSheets;

pub const WORDS: StopSheets = StopSheets {
    title: "Stop sheet of kit {serial}",
    recalled: "Recalled",
    recalled_by: "{day} by {supplier}",
    hazard_heading: "Hazard",
    action_heading: "What to do",
    remedies_heading: "What we offer",
    contact_heading: "Whom to ask",
    acknowledged: "Acknowledged {when}.",
    acknowledge_button: "I have read this sheet and will do what it says",
    acknowledge_button_desk: "The holder has read this sheet and will do what it says",
    print_link: "Print this sheet (PDF)",
    back: "Back to the kit",
    sure_heading: "Has the holder of kit {serial} read the stop sheet of revision {letter}?",
    sure_on_behalf: "The record says that you answered on behalf of the holder of kit {serial}. Do this only when you have read the sheet to them, or they have told you that they read it.",
    sure_opens: "The holder is not asked again. From then on they can download issued packs of revision {letter}, unless the kit is on hold. This cannot be undone.",
    sure_yes: "Yes, the holder has read it",
    remedy_state: "Recalled: revision {letter} was recalled on {day}. Do what the stop sheet says:",
    remedy_link: "Read the whole stop sheet",
    remedy_heading: "What {supplier} offers you",
    remedy_acknowledged: "The stop sheet was acknowledged {when}.",
    no_pack: "There is no pack to work from: revision {letter} was recalled. Its packs stay listed below for reference. Build nothing from them unless the stop sheet says so.",
}
.checked();
