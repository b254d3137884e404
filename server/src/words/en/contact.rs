//! Whom to ask, as it is shown and as it is changed.

use crate::words::groups::contact::Contact;

pub const WORDS: Contact = Contact {
    ask_heading: "Whom to ask",
    heading: "Whom holders of kits are told to ask",
    since: "Since {at}.",
    nobody_yet: "Nobody has said it yet: pages tell holders to ask the supplier, and not how.",
    where_it_stands: "It stands on covers, stop sheets and mails, on the pages of kits, and behind a code that is not known here. What is printed stays as it is.",
    text_label: "Whom, and how",
    text_hint: "At most four lines: an address, a telephone number and when it is answered.",
    change_button: "Say it anew",
}
.checked();
