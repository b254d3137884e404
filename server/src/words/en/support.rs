//! The box for whatever a caller can tell, and the answer.

use crate::words::groups::support::Support;
use matchmark_core::words::Plural;

pub const WORDS: Support = Support {
    heading: "Look up",
    asked_label: "What the caller knows",
    asked_hint: "A serial, a name, an address, an order number, or the text of a scanned code.",
    nothing: "Nothing matches. Ask for the serial: it is on every page of a pack and on the card.",
    more: "There are more matches. Ask for more of the name, or for the serial.",
    which_caption: "Which of these?",
    scanned_heading: "The page in the caller's hand",
    scanned: "Page {page} of {pages} of pack {pack} of kit {kit}, revision {revision}, {date}.",
    revision_is: "revision {revision} is",
    recalled_first: "Say this first: revision {revision} is recalled, and its stop sheet is not acknowledged.",
    stop_sheet_link: "Read the stop sheet to the caller",
    newest: "It has the newest revision in force.",
    no_newest: "This design has no revision in force to move it to.",
    since: "The newest in force is {newest}. Since {revision}: {changes}.",
    since_unlike: "The newest in force is {newest}. Changes since {revision} cannot be compared for the kit's choices.",
    since_mandatory: "{class} in {revision}: {note}",
    kit_link: "The kit's own page",
    person_button: "Show whose kit it is",
    notes_heading: "Notes",
    none: "None.",
    note_label: "Add a note",
    note_hint: "The builder does not see it.",
    note_button: "Save the note",
    notices_heading: "Notices outstanding",
    notice: "Notice {number} {class} of {day}: {text}",
    notice_seen: "Seen {when}.",
    packs_heading: "Packs",
    packs_caption: "Packs, newest first",
    packs_head_fetched: "Downloaded",
    packs_number: "Pack {number}",
    fetched: Plural { one: "{count} time", other: "{count} times" },
    fetched_named: Plural {
        one: "{count} time, last {at} by {role} {name}",
        other: "{count} times, last {at} by {role} {name}",
    },
    fetched_builder: Plural {
        one: "{count} time, last {at} by the builder",
        other: "{count} times, last {at} by the builder",
    },
    fetched_token: Plural {
        one: "{count} time, last {at} by a token of {role}",
        other: "{count} times, last {at} by a token of {role}",
    },
    fetched_gone: Plural {
        one: "{count} time, last {at} by a token that no longer exists",
        other: "{count} times, last {at} by a token that no longer exists",
    },
    measured_heading: "As built",
    measured: "{gauge}: {value} mm",
    moves_heading: "Moves",
    move_line: "{day}, {from} to {to}: {reason}",
}
.checked();
