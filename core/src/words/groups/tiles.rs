//! Templates in tiles.

crate::phrases! {
    /// Templates in tiles.
    Tiles {
        how();
        tile(column, row);
        heading(index, count, name);
        join(number);
        join_row(number);
    }
}
