//! Where zero lies, and how the axes run.

use crate::words::groups::zero::Zero;

pub(in crate::words) static WORDS: Zero = Zero {
    heading: "Zero, axes and base plane",
    coordinates: "All coordinates in these pages are of points on centrelines, in {unit}: x forward, y left, z up, as one sits in the frame. They begin at one point, zero:",
    halfway: "halfway between end {end} of {part} and that of {other}",
    at: "at end {end} of {part}",
    behind: "{length} behind end {end} of {part}",
    in_front: "{length} in front of end {end} of {part}",
    right: "{length} to the right of end {end} of {part}",
    left: "{length} to the left of end {end} of {part}",
    below: "{length} below end {end} of {part}",
    above: "{length} above end {end} of {part}",
    base_plane: "base plane",
    base_at_zero: "at z = 0: the level bed on which the frame is built.",
    base_below: "at z = {z}, {length} below zero: the level bed on which the frame is built.",
    base_above: "at z = {z}, {length} above zero: the level bed on which the frame is built.",
    nothing_lies: "Nothing of the frame lies on it; what stands higher is held by packers or by other parts, as the steps of the fit-up order say.",
    one_lies: "{part} lies on it; what stands higher is held by packers or by other parts, as the steps of the fit-up order say.",
    some_lie: "{parts} lie on it; what stands higher is held by packers or by other parts, as the steps of the fit-up order say.",
    forward: "x forward",
    to_the_left: "y left",
    up: "z up",
    how_seen: "Isometric, from the front, the left and above, not to scale. Dark: the tubes from whose ends zero is found.",
}
.checked();
