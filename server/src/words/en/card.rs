//! The access card of a kit.

use crate::words::groups::card::Card;

pub const WORDS: Card = Card {
    heading: "Access card of kit {serial}",
    print_now: "Print it now and put it in the box. Once you have left this page the code is not shown again; the one before it has ended.",
    code: "Access code",
    back: "Back to the kit",
    sure_heading: "Make a new access card for kit {serial}?",
    sure_code_ends: "If the kit has a card, its code ends at once, and with it every sign-in that was made with it.",
    sure_shown_once: "The new code is shown once: have a printer at hand.",
    sure_yes: "Yes, make a new card",
}
.checked();
