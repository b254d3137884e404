//! Why a part is kept or cannot serve.

crate::phrases! {
    /// Why a part is kept or cannot serve.
    Change {
        added();
        removed();
        tube_elsewhere();
        plate_elsewhere();
        measured();
        plate();
        section();
        bends(old, new);
        centreline(by);
        too_short(by);
        too_short_at(by, end);
        hole_moved(by);
        hole_gone();
    }
}
