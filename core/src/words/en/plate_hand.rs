//! What tells a left plate from the right one.

use crate::words::groups::plate_hand::PlateHand;

pub(in crate::words) static WORDS: PlateHand = PlateHand {
    hole_left: "Lay the plate with its countersinks up and the {edge} edge towards you: the {diameter} hole {above} above that edge lies {by} to the left of its middle.",
    corner_left: "Lay the plate with its countersinks up and the {edge} edge towards you: the corner {above} above that edge lies {by} to the left of its middle.",
    nothing_left: "No single feature tells this left plate from its opposite hand, from which it differs by up to {by}: compare it with its template.",
    other_face_left: "The countersinks of this left plate open to the other face: compare it with its template.",
    hole_right: "Lay the plate with its countersinks up and the {edge} edge towards you: the {diameter} hole {above} above that edge lies {by} to the right of its middle.",
    corner_right: "Lay the plate with its countersinks up and the {edge} edge towards you: the corner {above} above that edge lies {by} to the right of its middle.",
    nothing_right: "No single feature tells this right plate from its opposite hand, from which it differs by up to {by}: compare it with its template.",
    other_face_right: "The countersinks of this right plate open to the other face: compare it with its template.",
}
.checked();
