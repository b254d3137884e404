//! What this version of the service computes for a revision.

use crate::words::groups::figures::Figures;
use matchmark_core::words::Plural;

pub const WORDS: Figures = Figures {
    heading: "Figures of revision {letter} of {design}",
    agrees: "This version of the service, {version}, computes what was recorded, within 0.01 mm and 0.01 degrees.",
    held: "Held: this version of the service, {version}, computes other figures than were recorded. Nothing of revision {letter} is drawn or handed out until a publisher has looked at them and takes them, or the operator goes back to the version before. Packs that were issued are handed out as they were.",
    every_kit: "Every kit",
    recorded_alike: "Recorded by version {version} on {day}; nothing differs.",
    recorded_unlike: Plural { one: "Recorded by version {version} on {day}; {count} thing differs:", other: "Recorded by version {version} on {day}; {count} things differ:" },
    take_button: "Take the new figures",
    take_sure_heading: "Take the new figures of revision {letter}?",
    take_sure_about: "Packs and sheets of revision {letter} are drawn with the new figures from then on. Packs that were issued stay as they are.",
    take_sure_care: "Do so only when you know why the two versions differ, and which of them is right. A tube that was cut by the old figures may not fit by the new ones.",
    take_sure_yes: "Yes, take them",
    back: "Back to the revision",
}
.checked();
