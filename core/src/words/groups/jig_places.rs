//! Places of a jig sheet.

crate::phrases! {
    /// Places of a jig sheet.
    JigPlaces {
        bend_starts(bend);
        bend_ends(bend);
        between_bends(bend, next);
    }
}
