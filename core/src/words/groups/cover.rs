//! What the cover says.

crate::phrases! {
    /// What the cover says.
    Cover {
        bookmark();
        preview(mark);
        build_pack();
        changes_to_revision(revision);
        changes_to_pack(pack, revision);
        changes_to_packs(first, second, revision);
        caption_supplier();
        caption_revision();
        caption_date();
        caption_kit();
        caption_pack();
        caption_document();
        caption_contact();
        caption_hands();
        caption_kit_fact();
        caption_recall();
        caption_notice();
        caption_changes();
        caption_valid();
        not_published();
        no_kit();
        not_issued();
        pages_of_notice(number, beside, told);
        no_service();
        not_recorded();
        hash(digits);
        recalled(revision);
        notice_stopped(number, class, revision);
        notice_done(number, class, day);
        notice_done_before(number, class, day);
        notice_open(number, class);
        since_revision(revision, counts);
        since_pack(pack, revision, counts);
        since_packs(first, second, revision, counts);
        only_old_parts(revision);
        keep_of_revision(revision);
        keep_of_pack(pack, revision);
        keep_of_packs(first, second, revision);
        carry_over_then(then);
        heading_contents();
        pages(first, last);
        use_with_revision(revision);
        use_with_pack(pack, revision);
        use_with_packs(first, second, revision);
        do_not_mix();
        compare();
        units_of_the_supplier();
        heading_cautions();
    }
}
