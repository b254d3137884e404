//! What the page of changes says.

crate::phrases! {
    /// What the page of changes says.
    Changes {
        head_mark();
        head_before();
        head_now();
        head_what_to_do();
        head_done();
        head_dimension();
        head_value_before(unit);
        head_value_now(unit);
        none();
        rework(count);
        replace(count);
        added(count);
        removed(count);
        moved(count);
        how_to_rework();
        how_to_replace();
        how_to_add();
        how_to_remove();
        how_to_move();
        parts(counts);
        no_part();
        count_to_rework(count);
        count_to_replace(count);
        count_new(count);
        count_left_out(count);
        count_moved(count);
        since_revision(before, revision);
        since_pack(before, pack, revision);
        only_changes();
        replaces_all();
        nothing();
        done_already(day);
        stale(pack, parts);
        kit_has_moved(revision);
        carry_over(revision);
        cross_out();
        put_together();
        trimmed_elsewhere(count);
        how_trimmed_elsewhere();
        trim_step(part, end, old, new);
        heading_checks();
        heading_work();
        work_new(after, work);
        work_left_out(after, work);
        unchanged(count);
        as_measured();
        counts_for_notice(notice);
        count_left(count);
        heading_left(count);
        how_left();
        left_to(notice);
        left_to_done(notice, day);
        left_to_remeasured(notice, day);
        left_to_stopped(notice);
        left_step(after, work);
    }
}
