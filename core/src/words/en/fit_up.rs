//! What the fit-up order says.

use crate::words::groups::fit_up::FitUp;

pub(in crate::words) static WORDS: FitUp = FitUp {
    how_to_tack: "Tack each part where it belongs, check it with tape and square, and tick its box. Weld only when the whole frame is tacked and its widths and diagonals are checked. Places are points of the design on the middle line of a tube, at a cope on that of the tube that is met, beyond the cut: x forward, y left, z up, in {unit} from the frame's zero: see the page \"{page}\".",
    views: "Each view shows the parts of the steps under it dark, with the number of the step and the part, and the parts already in place light. It is isometric, from the front, the left and above, and not to scale.",
    whole_order: "This is the whole order, and takes the place of all pages of the one before: its steps have other numbers.",
    whole_order_of_notice: "This is the whole order, and takes the place of all pages of the one before. Its steps have numbers such as {example}, so that none is taken for one of that.",
    some_steps: "Only the steps that changed are here. Their numbers are those of the whole order of this revision.",
    some_steps_of_notice: "Only the steps that changed are here. Their numbers, such as {example}, are of these pages alone: a number without a letter is one of the order that is kept.",
    in_brackets: "In brackets stands which step of revision {revision} each takes the place of, whether it changed, and of a new one when it is done.",
    work_after: "After {part}",
    trim: "Trim {part}",
    trim_where_it_stands: "Where it stands: lay each wrap by its set-out, mark the line, check the length, then cut.",
    trim_on_the_bench: "On the bench: lay each wrap by its set-out, mark the line, check the length, then cut.",
    trim_end: "end {end}: cut off what is left long, {length}, by its wrap: {meets}",
    way_round: "index line 0 deg faces {faces}",
    way_round_handed: "index line 0 deg faces {faces}; handed: {opposite}, {number}, does not go here",
    lies_on_base: "lies on the base plane",
    held_level: "level, its underside {over} over the base plane: on packers of {over}",
    held_at_end: "its end {end} stands {over} over the base plane: on a packer of {over}",
    held_at_both: "both ends stand {over} over the base plane: on packers of {over}",
    root_gap: "root gap {gap} at the coped ends: the cut lines leave it",
    note: "Note: {note}",
    check_now: "Check now: {checks}",
    end: "end {end}: {meets}; at x {x}, y {y}, z {z}",
    end_in: "end {end}: {meets}, {depth} deep; at x {x}, y {y}, z {z}",
    end_over: "end {end}: {meets}, {depth} over it; at x {x}, y {y}, z {z}",
    trimmed_before: "trimmed at step {step}",
    still_longer: "still {length} longer, trimmed at step {step}",
    measured: "Measured, {gauge}: {length} ({nominal} as designed). These pages are fitted to that: measure it again only to see that nothing moved",
    measured_on: "Measured, {gauge}: {length} ({nominal} as designed, told on {day}). These pages are fitted to that: measure it again only to see that nothing moved",
    measure: "Measure and send in, {gauge}: {what}; {nominal} as designed, {least} to {most} {unit} can be taken into account",
}
.checked();
