//! How an old part is made into the new one.

use crate::words::groups::rework::Rework;

pub(in crate::words) static WORDS: Rework = Rework {
    both_ends: "Trim both ends in this order and by these lengths, so that holes that are drilled keep their distances.",
    drill: "Drill {holes}: mark it with the hole strip of {part}.",
    all_round: "{length} all round",
    round: "{least} to {most} round the tube",
    is_old_end: "which is end {end} of the old part",
    more: "{length} more while it is left long",
    by_wrap: "Trim end {end}, {how_much}: mark it with wrap {part}, end {end}.",
    square: "Trim end {end}, {how_much}: a square cut, measure it.",
    long_by_wrap: "If end {end} still has the {long} that were left long: trim it, {how_much} whatever its new sheets say: mark it with wrap {part}, end {end}, and cut no sooner than that says.",
    long_by_wrap_of_old: "If end {end}, which is end {old_end} of the old part, still has the {long} that were left long: trim it, {how_much} whatever its new sheets say: mark it with wrap {part}, end {end}, and cut no sooner than that says.",
    long_square: "If end {end} still has the {long} that were left long: trim it, {how_much} whatever its new sheets say: a square cut, measure it, and cut no sooner than that says.",
    long_square_of_old: "If end {end}, which is end {old_end} of the old part, still has the {long} that were left long: trim it, {how_much} whatever its new sheets say: a square cut, measure it, and cut no sooner than that says.",
    else_scrap: "If it is trimmed already, the part is scrap: make a new one by this revision.",
    set_out_from_old: "Set-out {length} from the long point of the old cut at end {end}",
    set_out_from_cut: "Set-out {length} from the long point of the cut at end {end}",
    set_out_first_from_sawn: "First: set-out {length} from end {end} as sawn",
    set_out_first_from_old: "First: set-out {length} from the long point of the old cut at end {end}",
    set_out_then: "Then: set-out {length} from the long point of the new cut at end {end}",
    length_from_old: "Length {length} from the long point of the old cut at end {end}",
    length_from_cut: "Length {length} from the long point of the cut at end {end}",
    length_first_from_sawn: "First: length {length} from end {end} as sawn",
    length_first_from_old: "First: length {length} from the long point of the old cut at end {end}",
    length_then: "Then: length {length} from the long point of the new cut at end {end}",
    more_than_printed: "{set_out}: {by} more than the {printed} on its sheet, and the length to check before you cut is {by} more too",
    less_than_printed: "{set_out}: {by} less than the {printed} on its sheet, and the length to check before you cut is {by} less too",
    if_still_long: "if that end is still left long, {length} from its sawn end",
    old_long_point: "the long point of that old cut lies at {clock}, not on the dash-dot line",
}
.checked();
