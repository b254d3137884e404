//! What a file says of itself, for programs that show files.

use crate::words::groups::document::DocumentWords;

pub(in crate::words) static WORDS: DocumentWords = DocumentWords {
    title_of_draft: "{design}, draft, not for cutting",
    title: "{design}, revision {revision}",
    title_of_wraps: "{design}, {wraps}",
    title_of_stop_sheet: "{design}, kit {kit}, {sheet}",
    subject: "kit {kit}, pack {pack}, design document SHA-256 {hash}",
}
.checked();
