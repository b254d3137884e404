//! Plates at true scale.

use crate::words::Plural;
use crate::words::groups::plates::Plates;

pub(in crate::words) static WORDS: Plates = Plates {
    lies_on: "{plate} lies on {part}; the face shown is the one away from it",
    lies_on_at: "{plate} lies on {part}, its zero point {length} along that tube from the long point of the cut at end 1, on the side at {clock}; the face shown is the one away from it",
    lies_at: "{plate}: its zero point, marked 0, lies at x {x}, y {y}, z {z} from zero (see the page \"{about}\"), on the face turned away here",
    looks: "it looks most nearly {up}, and what is right here points most nearly {right}",
    put_on: "on {part}",
    put_on_at: "on {part}, its zero point {length} along that tube from the long point of the cut at end 1, on the side at {clock}",
    put_at: "its zero point at x {x}, y {y}, z {z}, on the face turned away on its template",
    template_looks: "the face shown on its template looks {up}, what is right there points {right}",
    template_here: "template: page \"{page}\"",
    template_before: "template: page \"{page}\" of those that you keep",
    template_of_other_hand: "template: page \"{page}\" of the pack of the other hand",
    not_true_scale: "NOT AT TRUE SCALE, dimensions only: this plate would take more than {most} sheets of this paper and is drawn at about 1:{reduction}. Do not use the drawing as a template; ask for one on a larger sheet.",
    holes: "holes: {holes}",
    hole: "Ø{diameter}",
    countersunk: "Ø{diameter}, countersink Ø{countersink}",
    hole_at: "{hole} at {across} by {up}",
    centres: "Centres of holes, how far from the left edge of the plate by how far from its lower edge: {holes}",
    title: Plural { one: "Plate {marks}", other: "Plates {marks}" },
    made_of: Plural { one: "{count} off, {thickness} thick, {material}, {kg} kg each", other: "{count} off, {thickness} thick, {material}, {kg} kg each" },
    of_kind: Plural { one: "{count} of {hole}", other: "{count} of {hole}" },
}
.checked();
