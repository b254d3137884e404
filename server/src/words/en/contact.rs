//! Whom to ask, as it is shown and as it is changed.

use crate::words::groups::contact::Contact;

pub const WORDS: Contact = Contact {
    ask_heading: "Whom to ask",
    heading: "The contact for holders of kits",
    since: "Since {at}.",
    nobody_yet: "No contact is set yet. Pages tell holders to ask the supplier, but not how.",
    where_it_stands: "It is shown on covers, stop sheets, mails, the pages of kits, and the page for an unknown code. Paper that is already printed keeps the old contact.",
    text_label: "Whom to ask, and how",
    text_hint: "At most four lines: an address, a telephone number and its hours.",
    change_button: "Change the contact",
}
.checked();
