//! Why a part is kept or cannot serve.

use crate::words::groups::change::Change;

pub(in crate::words) static WORDS: Change = Change {
    added: "The revision before has no such part.",
    removed: "No longer used.",
    tube_elsewhere: "The same part in another place: keep it, and fit it to the new measures.",
    plate_elsewhere: "The same plate in another place: keep it, and fit it to the new measures.",
    measured: "The part that you have: it was measured and stays. Trim its ends by the new wraps.",
    plate: "Its outline, thickness, material or holes changed.",
    section: "The new part is made of another tube.",
    bends: "The old part has {old} bends, the new one {new}.",
    centreline: "The bent centrelines lie up to {by} apart.",
    too_short: "The old part is {by} too short.",
    too_short_at: "The old part is {by} too short at end {end}.",
    hole_moved: "A hole of the old part lies {by} from where the new part has it.",
    hole_gone: "The old part has a hole that the new one has not.",
}
.checked();
