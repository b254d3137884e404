//! What tells a left tube from the right one.

use crate::words::groups::hand::Hand;

pub(in crate::words) static WORDS: Hand = Hand {
    look: "Look along the tube from end {end} with {top} upwards: {found}.",
    until_drilled: "Until it is drilled nothing tells it that can be seen: write the mark on it first. Drilled: {seen}",
    top_long_point_here: "the long point of this end",
    top_long_point_of: "the long point of end {end}",
    top_throat_here: "the deepest point of the cut of this end",
    top_throat_of: "the deepest point of the cut of end {end}",
    top_hole_from_end: "the {diameter} hole {along} from the long point of end {end}",
    top_hole_after_bend: "the {diameter} hole {along} from where bend {bend} ends",
    top_bend: "bend {bend}",
    long_point_here_left: "the long point of this end lies {degrees}\u{b0} to the left",
    long_point_of_left: "the long point of end {end} lies {degrees}\u{b0} to the left",
    throat_here_left: "the deepest point of the cut of this end lies {degrees}\u{b0} to the left",
    throat_of_left: "the deepest point of the cut of end {end} lies {degrees}\u{b0} to the left",
    hole_from_end_left: "the {diameter} hole {along} from the long point of end {end} lies {degrees}\u{b0} to the left",
    hole_after_bend_left: "the {diameter} hole {along} from where bend {bend} ends lies {degrees}\u{b0} to the left",
    bend_left: "bend {bend} goes {degrees}\u{b0} to the left",
    long_point_here_right: "the long point of this end lies {degrees}\u{b0} to the right",
    long_point_of_right: "the long point of end {end} lies {degrees}\u{b0} to the right",
    throat_here_right: "the deepest point of the cut of this end lies {degrees}\u{b0} to the right",
    throat_of_right: "the deepest point of the cut of end {end} lies {degrees}\u{b0} to the right",
    hole_from_end_right: "the {diameter} hole {along} from the long point of end {end} lies {degrees}\u{b0} to the right",
    hole_after_bend_right: "the {diameter} hole {along} from where bend {bend} ends lies {degrees}\u{b0} to the right",
    bend_right: "bend {bend} goes {degrees}\u{b0} to the right",
    uneven_left: "Look along the tube from end {end} with its long point upwards: {degrees}\u{b0} to the left the edge stands out {by} further than at the same place on the other side.",
    uneven_right: "Look along the tube from end {end} with its long point upwards: {degrees}\u{b0} to the right the edge stands out {by} further than at the same place on the other side.",
    nothing_left: "No single mark tells this left part from its opposite hand, from which it differs by up to {by}: compare both ends with their wraps and label the part before it leaves the bench.",
    nothing_right: "No single mark tells this right part from its opposite hand, from which it differs by up to {by}: compare both ends with their wraps and label the part before it leaves the bench.",
}
.checked();
