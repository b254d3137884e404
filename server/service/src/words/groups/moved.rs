//! How a pack stands after which others were issued, or whose kit was moved to another revision.

matchmark_core::phrases! {
    /// How a pack stands after which others were issued, or whose kit was moved to another revision.
    Moved {
        came_back(between, pack);
        moved_on(serial, revision, pack, earlier);
        moved_to_recalled(revision, serial);
        read_what_stays(own, pack);
        use_instead(own, pack);
        ask_for_new(pack);
        kept(page, pack, beside, revision);
        kept_in_part(page, pack, beside, revision, cross_out);
        kept_after(page, pack, beside, revision);
        kept_in_part_after(page, pack, beside, revision, cross_out);
        not_kept(beside, revision, page, pack);
    } + counted {
        replaced(later, serial, pack);
        came_back_asking(between, notices, pack);
    }
}
