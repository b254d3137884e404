//! What is to be done about one value of the boxes of a kit.

matchmark_core::phrases! {
    /// What is to be done about one value of the boxes of a kit.
    BoxFields {
        most(most);
        packing();
        no_part(part);
        twice(part);
    }
}
