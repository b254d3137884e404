//! Why a pack cannot be issued as it was asked for.

use crate::words::groups::new_pack::NewPacks;

pub const WORDS: NewPacks = NewPacks {
    nothing_changed: "Nothing has changed since the kit's last pack, or it has no pack. Issue a whole pack.",
    on_changes: "The kit's last pack, {pack}, is itself a pack of changes, so another one would depend on two packs. Issue a whole pack.",
    on_recalled: "The kit's last pack is of revision {revision}, which was recalled, so none of its pages may be kept. Issue a whole pack.",
    both_hands: "A pack of changes always holds both hands. Leave `hands` out, or issue a whole pack.",
    one_hand_beside_changes: "The kit's last pack, {pack}, holds only changes, so it has not all templates of the other hand. Issue a pack of both hands.",
    changes_of_other_values: "The kit's last pack, {pack}, has the templates of one hand, and the pack of the other hand was drawn with other measured values. Issue a whole pack.",
    changes_of_one_hand: "The kit's last pack, {pack}, has the templates of one hand, and no pack of the other hand alone goes with it. Issue a whole pack.",
    design_errors: "The design has errors.",
    notice_unknown: "it could not be computed what the notice means for this kit; ask the supplier",
    failed: "The service failed; its log says why. Issue the pack of this kit separately.",
}
.checked();
