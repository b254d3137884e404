//! How a page stands that belongs to no pack: of a stop sheet, or of a notice.

matchmark_core::phrases! {
    /// How a page stands that belongs to no pack: of a stop sheet, or of a notice.
    LoosePage {
        recalled_again(letter, day, serial);
        stop_sheet(page, pages, letter, serial);
        recall_ended(letter, serial, day, reason);
        notice_stopped(letter, notice, serial);
        done(notice, serial, day);
        done_then_measured(notice, serial, day);
        compare(notice, serial, day);
        pack_since(serial, notice);
        kit_moved(notice, serial, revision);
        measured_since(serial, notice);
        current(page, pages, notice, serial, letter, day);
    }
}
