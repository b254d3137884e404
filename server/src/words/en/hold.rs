//! A hold on a kit.

use crate::words::groups::hold::Hold;

pub const WORDS: Hold = Hold {
    standing: "On hold since {day}: for now the supplier hands out no drawings for kit {serial}.",
    standing_ask: "Ask: {ask} Give them the serial {serial}.",
    standing_warnings: "Warnings still reach you: stop sheets and notices stay open here and are still sent to you.",
    desk_standing: "On hold since {at}: do not hand out any of its drawings in any way.",
    desk_ask: "The holder is told to ask: {ask}",
    title: "Hold on kit {serial}",
    put_heading: "Put kit {serial} on hold",
    put_about: "For a dispute, or after a theft. During a hold no pack of the kit is issued or downloaded, and the builder cannot open its sheets. Stop sheets and notices still reach the holder.",
    put_reason: "Why",
    put_reason_hint: "For the supplier's own people. The holder does not see it.",
    put_ask: "Whom the holder should ask, and how",
    put_ask_hint: "They read it on the page of their kit.",
    put_button: "Put on hold",
    put_sure_heading: "Put kit {serial} on hold?",
    put_sure_about: "Until the hold is lifted, nobody can issue or download a pack of the kit, and the builder cannot open its sheets. Stop sheets and notices still reach the holder.",
    put_sure_ask: "The holder reads: ask {ask}",
    put_sure_yes: "Yes, put it on hold",
    lift_heading: "Lift the hold on kit {serial}",
    lift_reason: "Why it is lifted",
    lift_reason_hint: "For the supplier's own people.",
    lift_button: "Lift the hold",
    lift_sure_heading: "Lift the hold on kit {serial}?",
    lift_sure_about: "From then on, packs of the kit are issued and handed out again, and the builder can open its sheets.",
    lift_sure_yes: "Yes, lift it",
    lifted_heading: "Lifted",
    lifted_line: "{from} to {to}: {reason} Lifted: {lift_reason}",
    back: "Back to the kit",
}
.checked();
