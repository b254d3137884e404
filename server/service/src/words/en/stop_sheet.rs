//! A stop sheet as plain text, and the same in a message.

use crate::words::groups::stop_sheet::StopSheets;

pub const WORDS: StopSheets = StopSheets {
    heading: "Product safety recall",
    first: "Stop. Do not cut, weld, assemble or use any part of this kit until you have read this sheet to its end.",
    band: "PRODUCT SAFETY RECALL",
    by: "{supplier}, {day}",
    kit: "Kit {serial}: {design}, revision {revision}",
    hazard: "HAZARD",
    what_to_do: "WHAT TO DO",
    remedies: "WHAT WE OFFER",
    contact: "WHOM TO ASK",
}
.checked();
