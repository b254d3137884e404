//! Where a scanned code leads.

matchmark_core::phrases! {
    /// Where a scanned code leads.
    PageStatuses {
        title(heading);
        current();
        kept();
        outdated();
        notice_first();
        superseded();
        withdrawn();
        recalled();
        on_hold();
        unknown();
        compare_heading();
        belongs_to();
        belongs_to_stop_sheet();
        page();
        page_of(page, pages);
        issued();
        check_again();
    }
}
