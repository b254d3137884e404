//! The access card of a kit.

use crate::words::groups::card::Card;

pub const WORDS: Card = Card {
    kit: "Kit {serial}, revision {revision} at delivery.",
    sign_in: "Sign in with the serial and this code to read your cut sheets and to fetch your packs.",
    keep: "Keep the card with the kit, and the code to yourself. Ask the supplier for a new one if it is lost.",
    newest: "Before you cut, check that the pack in your hand is the newest of this kit.",
}
.checked();
