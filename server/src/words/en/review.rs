//! The review of a draft.

use crate::words::groups::review::Review;

pub const WORDS: Review = Review {
    frozen: "Frozen for review on {at} by {by}: save {save}, written by {writer}. Nobody can change it until it is thawed or published.",
    content: "Content, SHA-256: {sha256}",
    open: "Save {save}, written by {writer}. It can be changed.",
    by_you: "you",
    by_token: "the token {token}",
    freeze_button: "Freeze for review",
    thaw_button: "Thaw",
    freeze_first: "This service publishes only drafts that a second person has reviewed. Freeze the draft. Then somebody who neither wrote nor froze it publishes it here.",
    somebody_else: "You wrote or froze this draft, so somebody else has to publish it here, signed in with their own publisher's token.",
    nobody_else: "The setting second-approver is off, so no second person has to review the draft. The record will show that one person published it alone.",
    thaw_sure_heading: "Thaw the draft of {design}?",
    thaw_sure_about: "Frozen for review on {at} by {by}. Thawing ends the review: the draft can be changed, and has to be frozen again before a second person can publish it.",
    thaw_sure_yes: "Yes, thaw it",
}
.checked();
