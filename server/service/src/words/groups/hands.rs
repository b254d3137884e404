//! How a pack with the templates of one hand stands, and one that another of one hand replaced in part.

matchmark_core::phrases! {
    /// How a pack with the templates of one hand stands, and one that another of one hand replaced in part.
    Hands {
        current_left(pack, day, revision, serial);
        current_right(pack, day, revision, serial);
        gone_left(later, pack);
        gone_right(later, pack);
        stays_left();
        stays_right();
        beside_left(pack);
        beside_right(pack);
        beside_outdated_left(pack);
        beside_outdated_right(pack);
        nowhere_left();
        nowhere_right();
        page_replaced(later, page, pack);
    }
}
