//! The review of a draft.

use crate::words::groups::review::Review;

pub const WORDS: Review = Review {
    frozen: "Frozen for review on {at} by {by}: save {save}, written by {writer}. Nobody writes it until it is thawed or published.",
    content: "Content, SHA-256: {sha256}",
    open: "Save {save}, written by {writer}. It can be written.",
    by_you: "you",
    by_token: "the token {token}",
    freeze_button: "Freeze for review",
    thaw_button: "Thaw",
    freeze_first: "This service publishes only what a second person has looked at. Freeze the draft; then somebody else, who neither wrote nor froze it, publishes it here.",
    somebody_else: "You wrote or froze this draft, so that somebody else has to publish it here, signed in with a publisher's token of their own.",
    nobody_else: "No second person has to look at it first, because the setting second-approver is off; that it was published by one is on record.",
    thaw_sure_heading: "Thaw the draft of {design}?",
    thaw_sure_about: "Frozen for review on {at} by {by}. The review ends: what was looked at can be changed, and it has to be frozen again before a second person can publish it.",
    thaw_sure_yes: "Yes, thaw it",
}
.checked();
