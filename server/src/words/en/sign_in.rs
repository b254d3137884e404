//! Signing in.

use crate::words::groups::sign_in::SignIn;

pub const WORDS: SignIn = SignIn {
    heading: "Sign in",
    serial_label: "Serial of the kit",
    serial_hint: "As on the card, such as QF-0101.",
    code_label: "Access code",
    code_hint: "Four groups of four. Capitals and hyphens do not matter.",
    token_label: "Token",
    token_hint: "It is not kept in this browser.",
    token_wrong: "This service did not give out this token, or the token has ended. Check that you copied all of it.",
    card_heading: "With the card of your kit",
    card_button: "Sign in with the card",
    token_heading: "With a token, for the supplier's people",
    token_button: "Sign in with the token",
    lost: "Have the serial of your kit ready: it is on the card and on every page of a pack. The supplier can replace a lost card.",
    not_encrypted: "The connection to this service is not encrypted. Use it only in your own network.",
}
.checked();
