//! Plates at true scale.

crate::phrases! {
    /// Plates at true scale.
    Plates {
        lies_on(plate, part);
        lies_on_at(plate, part, length, clock);
        lies_at(plate, x, y, z, about);
        looks(up, right);
        put_on(part);
        put_on_at(part, length, clock);
        put_at(x, y, z);
        template_looks(up, right);
        template_here(page);
        template_before(page);
        template_of_other_hand(page);
        not_true_scale(most, reduction);
        holes(holes);
        hole(diameter);
        countersunk(diameter, countersink);
        hole_at(hole, across, up);
        centres(holes);
    } + counted {
        title(marks);
        made_of(count, thickness, material, kg);
        of_kind(count, hole);
    }
}
