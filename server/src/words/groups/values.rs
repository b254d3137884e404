//! Times, sizes and lists, as they stand in a cell or in a sentence.

matchmark_core::phrases! {
    /// Times, sizes and lists, as they stand in a cell or in a sentence.
    Values {
        minute(day, time);
        kilobytes(number);
        megabytes(number);
        list(begun, next);
        pair(name, value);
    } + counted {
        bytes(count);
    }
}
