//! The stock plan.

use crate::words::Plural;
use crate::words::groups::stock_plan::StockPlan;

pub(in crate::words) static WORDS: StockPlan = StockPlan {
    for_frame: "Bars for one frame, to scale along the bar only, the trimmed end on the left.",
    for_changes: "Bars for the tubes that are replaced or new; what is reworked needs none, to scale along the bar only, the trimmed end on the left.",
    for_changes_but_scrap: "Bars for the tubes that are replaced or new; what is reworked needs none, and a part that turns out to be scrap is not counted, to scale along the bar only, the trimmed end on the left.",
    how_to_read: "Lengths are what the saw leaves, long point to long point, without allowance. A cut is placed where the blade's side toward the trimmed end crosses the bar's axis. The saw swings to one side; turns are clockwise as seen from the trimmed end, back is the other way, both from where the bar lay for the cut before. Measure every bar before you cut.",
    check_your_kerf: "Each plan counts on the kerf named with it: what one cut takes of the tube's length. Check yours first, with the blade and the tube that you will cut: measure a scrap, saw it in two, lay both pieces end to end and measure again. What is missing is your kerf. If it is more than the plan holds for, ask for a plan with your kerf before you cut a bar.",
    no_plan: "No plan: {why}",
    head_bar: "bar",
    head_order: "in order, from the trimmed end",
    head_parts: "parts",
    of_number: "{number}: {said}",
    least: "{cost} in all, no less will do.",
    not_proven: "{cost} in all, at least {bound} are needed.",
    kerf_and_trim: "Counts on a kerf of {kerf}, holds for up to {most}; trim {trim}.",
    kerf_at_most_and_trim: "Counts on a kerf of {kerf}, and holds for no more; trim {trim}.",
    remnants: "Every bar keeps {remnant} or more. Remnants of {worth} and more are worth keeping: {kept}.",
    nothing_left: "nothing left",
    remnant: "remnant {length}, keep",
    offcut: "offcut {length}",
    one_of: "{part} of {length}",
    several_of: "{count} x {part} of {length}",
    saw: "cut {number} at {place}: saw {angle}",
    saw_square: "cut {number} at {place}: saw square",
    turn_and_saw: "cut {number} at {place}: turn the bar {turn}, saw {angle}",
    turn_and_saw_square: "cut {number} at {place}: turn the bar {turn}, saw square",
    back_and_saw: "cut {number} at {place}: turn the bar back {turn}, saw {angle}",
    back_and_saw_square: "cut {number} at {place}: turn the bar back {turn}, saw square",
    comes_off: "off comes {part} with its end {end}",
    begins: "{part} begins with its end {end}",
    section: Plural { one: "{section}, {size}, {material}: {bars} bar", other: "{section}, {size}, {material}: {bars} bars" },
    bar: Plural { one: "bar {number}: cut {count} x {length}", other: "bar {number}: cut {count} x {length}" },
}
.checked();
