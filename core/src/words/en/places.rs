//! What a check dimension is, and the places between which it is measured: they follow "from" and "to".

use crate::words::groups::places::Places;

pub(in crate::words) static WORDS: Places = Places {
    between: "{what}: from {from} to {to}",
    with_end: "end {end} of {part}",
    distance: "distance",
    distance_along: "distance along {axis}",
    spread: "spread, end to end",
    height: "height, square to the base plane",
    diagonal: "diagonal",
    width: "width",
    end_middle: "the middle of end {end} of {part}",
    base_plane: "the base plane",
    crown: "the top of {part} at its crown, outside",
    at_clock: "{on} at {degrees} deg, the side that faces {faces}, in line with {with}",
    on_side: "{on} on the side that faces {faces}, in line with {with}",
    on_middle: "{on} on the middle of the side that faces {faces}, in line with {with}",
    turned: "{on} {degrees} deg round from the middle of the side that faces {faces} towards {towards}, in line with {with}",
    corner: "the outer corner of {part} and {other}, the long point of end {end} of {part}",
    bend_corner: "where the centrelines of {part} before and after its bend {bend} would meet",
    on_base: "the base plane at x {x}, y {y}",
    in_space: "x {x}, y {y}, z {z} from the frame's origin",
    beyond_sawn: "the centreline of {part}, {by} beyond the middle of the sawn face at its end {end}",
    beyond_cut: "the centreline of {part}, {by} beyond the middle of the cut face at its end {end}",
    beyond_part: "the centreline of {part}, {by} beyond where that meets {met} at its end {end}",
    beyond_fitted: "the centreline of {part}, {by} beyond where that meets what its end {end} is fitted to",
    in_from_sawn: "the centreline of {part}, {by} in from the middle of the sawn face at its end {end}",
    in_from_cut: "the centreline of {part}, {by} in from the middle of the cut face at its end {end}",
    in_from_part: "the centreline of {part}, {by} in from where that meets {met} at its end {end}",
    in_from_fitted: "the centreline of {part}, {by} in from where that meets what its end {end} is fitted to",
    along_sawn: "the centreline of {part}, {by} from the middle of the sawn face at its end {end}",
    along_cut: "the centreline of {part}, {by} from the middle of the cut face at its end {end}",
    along_part: "the centreline of {part}, {by} from where that meets {met} at its end {end}",
    along_fitted: "the centreline of {part}, {by} from where that meets what its end {end} is fitted to",
}
.checked();
