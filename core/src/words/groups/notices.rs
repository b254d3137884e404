//! What the pages of notices say.

crate::phrases! {
    /// What the pages of notices say.
    Notices {
        mandatory();
        recommended();
        optional();
        what_they_are();
        heading(number, class, date, from, to);
        heading_done(number, class, from, to, day);
        stop_the_work(to);
        stop_the_parts(to);
        work_is_listed();
        work_is_unknown();
        pack_has_change(revision);
        pack_lacks_change(revision, to);
        list_counts();
        notice_counts();
        measured();
        was_done_before_remeasured(revision);
        remeasured();
        was_done(revision);
        made_already(notice, day, parts);
        was_done_before(revision);
        parts_are_unknown();
        done_on(number);
        done_by();
    }
}
