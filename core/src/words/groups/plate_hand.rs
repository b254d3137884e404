//! What tells a left plate from the right one.

crate::phrases! {
    /// What tells a left plate from the right one.
    PlateHand {
        hole_left(edge, diameter, above, by);
        corner_left(edge, above, by);
        nothing_left(by);
        other_face_left();
        hole_right(edge, diameter, above, by);
        corner_right(edge, above, by);
        nothing_right(by);
        other_face_right();
    }
}
