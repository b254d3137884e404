//! Drawings of the whole frame.

use crate::words::groups::drawings::Drawings;

pub(in crate::words) static WORDS: Drawings = Drawings {
    views: "Frame, three views",
    pictorial: "Frame, pictorial",
    third_angle: "Third-angle projection: the view from above stands above the view from the left, the view from the front to the left of it.",
    views_apart: "Each view is named by the side from which it is seen.",
    how_to_read: "Orthographic views, hidden lines left out. Lengths in {unit}: those in brackets are of the finished frame over all, the others are check dimensions, and the page \"{checks}\" says from where to where. Where there is room each part number stands once, at one of its parts; left and right parts of one number are alike. Cut no part to this drawing.",
    how_to_read_pictorial: "Isometric view (ISO 5456-3) from the front, the left and above, not to scale: all three axes are shortened alike. Part numbers stand once each, where a part of that number is seen; the parts list has all of them and says where else each goes.",
    draft_alone: "{design}, draft",
    revision_alone: "{design}, revision {revision}",
    scale_in_plane: "scale 1:{reduction} in the plane of the drawing",
    cut_nothing_to_it: "Cut no part to this drawing.",
    figure_of_notice: "{figure}, notice {notice}",
    beside_a_notice: "Do not go by a figure that has a notice beside it: the notice changes it.",
}
.checked();
