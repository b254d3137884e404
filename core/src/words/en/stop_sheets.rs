//! What a stop sheet says.

use crate::words::groups::stop_sheets::StopSheets;

pub(in crate::words) static WORDS: StopSheets = StopSheets {
    title: "Stop sheet of revision {revision}",
    band: "PRODUCT SAFETY RECALL",
    first: "Stop. Do not cut, weld, assemble or use any part of this kit until you have read this sheet to its end.",
    recalled: "Kit {kit}: {design}, revision {revision}, recalled on {date} by {supplier}.",
    pack_of_another: "This pack is of revision {pack_revision}. The recall is of parts made, and pages printed, to revision {revision}.",
    heading_hazard: "Hazard",
    heading_what_to_do: "What to do",
    heading_remedies: "What we offer",
    heading_contact: "Whom to ask",
}
.checked();
