//! What sets a kit apart.

use crate::words::groups::kit_facts::KitFacts;

pub(in crate::words) static WORDS: KitFacts = KitFacts {
    choice: "{option}: {choice}",
    measured: "measured {gauge}: {length}",
    rework_pages: "Rework pages of notice {notice} ({class}), revision {from} to {to}: no pack. Use them with the pack of this kit, for the parts that they name.",
}
.checked();
