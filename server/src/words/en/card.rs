//! The access card of a kit.

use crate::words::groups::card::Card;

pub const WORDS: Card = Card {
    heading: "Access card of kit {serial}",
    print_now: "Print it now and put it with the kit. The code is not shown again after you leave this page. The code before it has ended.",
    code: "Access code",
    back: "Back to the kit",
    sure_heading: "Make a new access card for kit {serial}?",
    sure_code_ends: "If the kit has a card already, its code ends at once, and so does every sign-in made with it.",
    sure_shown_once: "The new code is shown only once. Have a printer ready.",
    sure_yes: "Yes, make a new card",
}
.checked();
