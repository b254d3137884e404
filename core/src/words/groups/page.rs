//! What stands on every page, and on pieces cut out of one.

crate::phrases! {
    /// What stands on every page, and on pieces cut out of one.
    Page {
        draft_mark();
        rule_of_changes();
        rule();
        not_signed();
        no_code();
        draft();
        none();
        page_of(page, pages);
        head_design();
        head_this_page();
        head_revision();
        head_date();
        head_kit();
        head_pack();
        head_notice_pages();
        head_page();
        several(first, last, count);
        continued(title);
        draft_of(design, date);
        revision_of(design, revision, date);
        pack(pack);
        kit(kit);
        part(part);
        part_as_measured(part);
        short_pack(pack);
        notice_pages(set);
        notice_set(notice, beside, told);
        overall(length);
        on_page(page);
        on_pages(pages);
        where_to_find();
        wrap(part, end);
        end_of(part, end);
        end(end);
        scale(reduction);
    }
}
