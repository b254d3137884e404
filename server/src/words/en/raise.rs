//! Raising a notice.

use crate::words::groups::raise::Raise;

pub const WORDS: Raise = Raise {
    heading: "Raise a notice about {design}",
    about: "The notice goes to every kit of an earlier revision that the change affects, with the work for each part. A notice cannot be changed once it is raised.",
    from_label: "Change from",
    to_label: "to",
    letter: "Revision {letter}",
    class_label: "How much it matters",
    class_missing: "Say how much it matters.",
    text_label: "The message to every holder",
    text_hint: "Say what is wrong, and what to do before they go on.",
    button: "Raise the notice",
    back: "Back to the design",
}
.checked();
