//! The bars by which the scale of a print is checked.

crate::phrases! {
    /// The bars by which the scale of a print is checked.
    CheckBar {
        across(length, allowed);
        up(length, allowed);
    }
}
