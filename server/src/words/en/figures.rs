//! What this version of the service computes for a revision.

use crate::words::groups::figures::Figures;
use matchmark_core::words::Plural;

pub const WORDS: Figures = Figures {
    heading: "Figures of revision {letter} of {design}",
    agrees: "This version of the service, {version}, computes the recorded figures, within 0.01 mm and 0.01 degrees.",
    held: "Held: this version of the service, {version}, computes figures that differ from the record. Nothing of revision {letter} is drawn or handed out until a publisher has looked at the new figures and accepted them, or the operator goes back to the earlier version. Packs already issued are still handed out.",
    every_kit: "Every kit",
    recorded_alike: "Recorded by version {version} on {day}; nothing differs.",
    recorded_unlike: Plural { one: "Recorded by version {version} on {day}; {count} thing differs:", other: "Recorded by version {version} on {day}; {count} things differ:" },
    take_button: "Accept the new figures",
    take_sure_heading: "Accept the new figures of revision {letter}?",
    take_sure_about: "From then on, packs and sheets of revision {letter} are drawn with the new figures. Packs already issued stay as they are.",
    take_sure_care: "Do this only when you know why the two versions differ and which is right. A tube cut to the old figures may not fit one cut to the new.",
    take_sure_yes: "Yes, accept them",
    back: "Back to the revision",
}
.checked();
