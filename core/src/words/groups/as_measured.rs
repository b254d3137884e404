//! Parts that are fitted to what was measured on a kit, in lists.

crate::phrases! {
    /// Parts that are fitted to what was measured on a kit, in lists.
    AsMeasured {
        number_with_m();
        made_already(parts);
        stands();
        to_values();
    }
}
