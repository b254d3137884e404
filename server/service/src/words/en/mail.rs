//! A message to the holder of a kit.

use crate::words::groups::mail::Mail;

pub const WORDS: Mail = Mail {
    recall_subject: "Product safety recall: kit {serial}, revision {revision}",
    recall_first: "Stop. Do not cut, weld, assemble or use any part of this kit until you have read the stop sheet to the end.",
    mandatory_subject: "{supplier}: a mandatory notice for kit {serial}",
    mandatory_first: "A mandatory notice concerns your kit.",
    recommended_subject: "{supplier}: a recommended notice for kit {serial}",
    recommended_first: "A recommended notice concerns your kit.",
    optional_subject: "{supplier}: an optional notice for kit {serial}",
    optional_first: "An optional notice concerns your kit.",
    kit: "Kit {serial}, design {design}, revision {revision}",
    sign_in: "Sign in with the card of your kit to read what it means for your parts, and to answer:",
}
.checked();
