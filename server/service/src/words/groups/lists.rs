//! Several things in a row.

matchmark_core::phrases! {
    /// Several things in a row.
    Lists {
        next(list, thing);
        last(list, thing);
    }
}
