//! What the supplier's people can do on the page of a kit.

use crate::words::groups::desk::Desk;

pub const WORDS: Desk = Desk {
    heading: "At the supplier's desk",
    issue_link: "Issue a new pack",
    card_button: "Make a new access card",
    look_up_link: "Look up",
    lift_link: "Lift the hold",
    hold_link: "Put on hold",
    card_about: "A new card ends the old code and every sign-in made with it.",
}
.checked();
