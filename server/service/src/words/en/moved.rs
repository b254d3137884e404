//! How a pack stands after which others were issued, or whose kit was moved to another revision.

use crate::words::groups::moved::Moved;
use matchmark_core::words::Plural;

pub const WORDS: Moved = Moved {
    replaced: Plural {
        one: "Superseded: pack {later} was issued for kit {serial} after pack {pack}. Use pack {later}, and cross out every page of pack {pack}.",
        other: "Superseded: packs {later} were issued for kit {serial} after pack {pack}. Use packs {later}, and cross out every page of pack {pack}.",
    },
    came_back: "The kit had revision {between} in between: of what was made to that revision use only parts whose numbers stand in pack {pack} too and have no /M. If you crossed out pages of pack {pack} then, have a new pack drawn.",
    came_back_asking: Plural {
        one: "The kit had revision {between} in between: of what was made to that revision use only parts whose numbers stand in pack {pack} too and have no /M, and those that notice {notices} asks for. If you crossed out pages of pack {pack} then, have a new pack drawn.",
        other: "The kit had revision {between} in between: of what was made to that revision use only parts whose numbers stand in pack {pack} too and have no /M, and those that notices {notices} ask for. If you crossed out pages of pack {pack} then, have a new pack drawn.",
    },
    moved_on: "Superseded: kit {serial} has revision {revision} now, and pack {pack} is of revision {earlier}.",
    moved_to_recalled: "Stop: revision {revision} was recalled by the supplier. Read the stop sheet for kit {serial}, and cut from none of its packs until the supplier says which to use.",
    read_what_stays: "Pack {own} holds the changes. Its pages \"What changed\" say which pages of pack {pack} stay valid and which it replaces. Read them before you cut from either.",
    use_instead: "Use pack {own}, and cross out every page of pack {pack}.",
    ask_for_new: "Ask the supplier for its new pack, and cross out every page of pack {pack}.",
    kept: "Kept: page {page} of pack {pack} stays valid beside pack {beside} of revision {revision}, which holds the changes.",
    kept_in_part: "Kept: page {page} of pack {pack} stays valid beside pack {beside} of revision {revision}, which holds the changes once you have crossed out on this page: {cross_out}.",
    kept_after: "But for that, page {page} of pack {pack} stays valid beside pack {beside} of revision {revision}, which holds the changes.",
    kept_in_part_after: "But for that, page {page} of pack {pack} stays valid beside pack {beside} of revision {revision}, which holds the changes once you have crossed out on this page: {cross_out}.",
    not_kept: "Superseded: pack {beside} of revision {revision} holds the changes and does not keep page {page} of pack {pack}. Cross the page out, and use pack {beside} instead.",
}
.checked();
