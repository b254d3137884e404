//! A hold on a kit.

use crate::words::groups::hold::Hold;

pub const WORDS: Hold = Hold {
    standing: "On hold since {day}: the supplier hands out no drawings for kit {serial} for the present.",
    standing_ask: "Ask: {ask} Give them the serial {serial}.",
    standing_warnings: "Warnings are not held back: stop sheets and notices stay open here, and are still sent to you.",
    desk_standing: "On hold since {at}: hand out no drawings of it, by no way.",
    desk_ask: "The holder is told to ask: {ask}",
    title: "Hold on kit {serial}",
    put_heading: "Put kit {serial} on hold",
    put_about: "In a dispute or after a theft. While it stands no pack of the kit is issued or downloaded, and its builder's sign-in opens no sheets. Stop sheets and notices still reach the holder.",
    put_reason: "Why",
    put_reason_hint: "For the supplier's own people; the holder does not see it.",
    put_ask: "Whom the holder is to ask, and how",
    put_ask_hint: "They read it on the page of their kit.",
    put_button: "Put on hold",
    put_sure_heading: "Put kit {serial} on hold?",
    put_sure_about: "No pack of the kit is issued or downloaded any more, by anyone, and its builder's sign-in opens no sheets, until the hold is lifted. Stop sheets and notices still reach the holder.",
    put_sure_ask: "The holder reads: ask {ask}",
    put_sure_yes: "Yes, put it on hold",
    lift_heading: "Lift the hold on kit {serial}",
    lift_reason: "Why it is lifted",
    lift_reason_hint: "For the supplier's own people.",
    lift_button: "Lift the hold",
    lift_sure_heading: "Lift the hold on kit {serial}?",
    lift_sure_about: "Packs of the kit are issued and handed out again from then on, and its builder's sign-in opens its sheets.",
    lift_sure_yes: "Yes, lift it",
    lifted_heading: "Lifted",
    lifted_line: "{from} to {to}: {reason} Lifted: {lift_reason}",
    back: "Back to the kit",
}
.checked();
