//! How large a part is.

crate::phrases! {
    /// How large a part is.
    Sizes {
        plate(thickness);
    }
}
