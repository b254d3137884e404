//! Why a pack cannot be issued as it was asked for.

matchmark_core::phrases! {
    /// Why a pack cannot be issued as it was asked for.
    NewPacks {
        nothing_changed();
        on_changes(pack);
        on_recalled(revision);
        both_hands();
        one_hand_beside_changes(pack);
        changes_of_other_values(pack);
        changes_of_one_hand(pack);
        design_errors();
        notice_unknown();
        failed();
    }
}
