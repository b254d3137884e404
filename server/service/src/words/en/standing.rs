//! How a pack or a kit stands.

use crate::words::groups::standing::Standing;
use matchmark_core::words::Plural;

pub const WORDS: Standing = Standing {
    recalled: "Recalled: stop. Revision {letter} was recalled by the supplier. Read the stop sheet for kit {serial}, and do what it says, before you cut, weld or use anything.",
    unread: Plural {
        one: "Stop sheet first: revision {letters} was recalled, and its stop sheet for kit {serial} is not acknowledged. Read it to the end; nothing to build from is handed out before that.",
        other: "Stop sheets first: revisions {letters} were recalled, and their stop sheets for kit {serial} are not acknowledged. Read them to the end; nothing to build from is handed out before that.",
    },
    base_recalled: "Have a whole pack issued first: pack {pack} holds only changes, and the pages that it belongs with are of revision {letter}, which was recalled.",
    done_then_recalled: "Stop: notice {notice} was done on {day}, but revision {letter}, from which its parts were made, has since been recalled. Use none of them until the supplier says how.",
    stopped: "Stop: notice {notice} is mandatory for kit {serial}, but revision {letter}, which has its change, has since been recalled. Make none of the parts that it names, old or new, until the supplier says how.",
    do_first: Plural {
        one: "Do notice {notices} first: it is mandatory for kit {serial}, and no part that it names may be made from pages drawn before the change.",
        other: "Do notices {notices} first: they are mandatory for kit {serial}, and no part that they name may be made from pages drawn before the change.",
    },
    drawn_before: "Pack {pack} was drawn earlier and does not say so.",
    not_done: Plural {
        one: "Notice {notices} is not done: revision {revision} has the change, but parts made before it must not be used until it is done.",
        other: "Notices {notices} are not done: revision {revision} has the change, but parts made before it must not be used until they are done.",
    },
    reworked: "Notice {notice} was done on {day}: make the parts that it names from its own pages, and do not use their templates.",
    reworked_beside: "Notice {notice} was done on {day}: make the parts that it names from its own pages, and do not use their templates in pack {pack}.",
    remeasured: "After it was raised {told}: parts made for it from earlier pages may not fit any more. Download the pages of notice {notice} again, compare those parts with them, and ask the supplier about what is too short.",
    made_before: "Notice {notice} was done on {day}, and since then {told}: parts made for it may not fit any more. Compare them with their finished size in the pack, and ask the supplier about what is too short.",
    untold: Plural {
        one: "Ask the supplier first: revision {letters} has a change that is mandatory for earlier revisions, and nobody has said yet what it means for kit {serial}. Cut and weld nothing until you know.",
        other: "Ask the supplier first: revisions {letters} have a change that is mandatory for earlier revisions, and nobody has said yet what it means for kit {serial}. Cut and weld nothing until you know.",
    },
    on_hold: "On hold: the supplier holds kit {serial}. Cut nothing for it until the supplier lets it go.",
    withdrawn: "Withdrawn: no more kits are sold with revision {revision}. Ask the supplier whether kit {serial} goes on with it before you cut.",
    withdrawn_with_reason: "Withdrawn: no more kits are sold with revision {revision}. The supplier says why: \"{reason}\" Ask the supplier whether kit {serial} goes on with it before you cut.",
    withdrawn_before: "Revision {revision} was withdrawn earlier and was put in force again on {day}: \"{reason}\"",
    recalled_before: "Revision {revision} was recalled earlier and was put in force again on {day}: \"{reason}\"",
    later_revision: "The design has a later revision, {newer}; a kit keeps its own until the supplier moves it. Never mix pages of both.",
    no_pack: "No pack yet: none of revision {revision} has been issued for kit {serial}. Ask the supplier for one, and build from no other.",
    current: "Current: pack {pack} of {day} is the last of revision {revision} for kit {serial}, which has that revision.",
    void: "Void: pack {pack} of kit {serial} was never issued, because its issue failed. The number is not used again, and no pack is missing.",
}
.checked();
