//! Signing in.

use crate::words::groups::sign_in::SignIn;

pub const WORDS: SignIn = SignIn {
    heading: "Sign in",
    serial_label: "Serial of the kit",
    serial_hint: "As on the card, such as QF-0101.",
    code_label: "Access code",
    code_hint: "Four groups of four. Small letters and missing hyphens do not matter.",
    token_label: "Token",
    token_hint: "It is not kept in this browser.",
    token_wrong: "This token is not one that the service gave out, or it has ended; check that it was copied whole.",
    card_heading: "With the card of your kit",
    card_button: "Sign in with the card",
    token_heading: "With a token, for the supplier's people",
    token_button: "Sign in with the token",
    lost: "Have the serial of your kit at hand; it stands on its card and on every page of a pack. A card that was lost is replaced by a new one.",
    not_encrypted: "This service is reached without encryption. Use it in your own network alone.",
}
.checked();
