//! What is said of left and right parts.

use crate::words::groups::pairs::Pairs;

pub(in crate::words) static WORDS: Pairs = Pairs {
    head_left: "left",
    head_left_number: "left part number",
    head_right: "right",
    head_right_number: "right part number",
    head_differ: "differ by, {unit}",
    head_both: "left and right",
    head_number: "part number",
    heading_handed: "Handed: a left part and a right part, never to be swapped",
    none_handed: "There are none: every part of a pair goes on either side.",
    how_to_tell: "The two look alike and are mirror images. Lay each on the bench, look at it as its line says, and write its mark on it before you put it down. The figure is the most by which they differ when one is laid on the other as well as can be.",
    legend: "Drawn from the side of the line at 0 deg, ends to scale. Square: the long point of a cut on the side that is seen; ring: on the side turned away.",
    heading_equal: "Interchangeable: one part for both sides",
    goes_in_either: "Either part goes in either place, turned end for end or over where need be.",
    tell_left: "Left: {words}",
    tell_right: "Right: {words}",
    left_and_right: "{stem}.L and .R",
    two: "{left} and {right}",
    square: "square",
    long_point: "long point {clock}",
}
.checked();
