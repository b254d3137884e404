//! What sets a kit apart.

use crate::words::groups::kit_facts::KitFacts;

pub(in crate::words) static WORDS: KitFacts = KitFacts {
    choice: "{option}: {choice}",
    measured: "measured {gauge}: {length}",
    rework_pages: "Rework pages of notice {notice} ({class}), revision {from} to {to}: no pack. Use them with the pack of this kit, for the parts that they name.",
    done_then_measured: "Notice {notice} was reported as done on {day}, and values of this kit were told after it was raised. Parts that were made from pages of this set stay as they are. Compare all others with their finished size in these pages, change only what still differs, and ask the supplier about what is too short.",
    done: "Notice {notice} was reported as done on {day}. By that, the parts that it names are made as these pages show: keep them.",
    done_by_holder: "Notice {notice} was reported as done on {day} by the holder of the kit. By that, the parts that it names are made as these pages show: keep them.",
    done_for_holder: "Notice {notice} was reported as done on {day} by the supplier, on behalf of the holder of the kit. By that, the parts that it names are made as these pages show: keep them.",
}
.checked();
