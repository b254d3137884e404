//! Packs of one hand.

crate::phrases! {
    /// Packs of one hand.
    HandsWords {
        left_cover();
        right_cover();
        left_page();
        right_page();
    }
}
