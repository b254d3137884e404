//! How a pack or a kit stands.

matchmark_core::phrases! {
    /// How a pack or a kit stands.
    Standing {
        recalled(letter, serial);
        base_recalled(pack, letter);
        done_then_recalled(notice, day, letter);
        stopped(notice, serial, letter);
        drawn_before(pack);
        reworked(notice, day);
        reworked_beside(notice, day, pack);
        remeasured(told, notice);
        made_before(notice, day, told);
        on_hold(serial);
        withdrawn(revision, serial);
        withdrawn_with_reason(revision, reason, serial);
        withdrawn_before(revision, day, reason);
        recalled_before(revision, day, reason);
        later_revision(newer);
        no_pack(revision, serial);
        current(pack, day, revision, serial);
        void(pack, serial);
    } + counted {
        unread(letters, serial);
        do_first(notices, serial);
        not_done(notices, revision);
        untold(letters, serial);
    }
}
