//! What the fit-up order says.

crate::phrases! {
    /// What the fit-up order says.
    FitUp {
        how_to_tack(unit, page);
        views();
        whole_order();
        whole_order_of_notice(example);
        some_steps();
        some_steps_of_notice(example);
        in_brackets(revision);
        work_after(part);
        trim(part);
        trim_where_it_stands();
        trim_on_the_bench();
        trim_end(end, length, meets);
        way_round(faces);
        way_round_handed(faces, opposite, number);
        lies_on_base();
        held_level(over);
        held_at_end(end, over);
        held_at_both(over);
        root_gap(gap);
        note(note);
        check_now(checks);
        end(end, meets, x, y, z);
        end_in(end, meets, depth, x, y, z);
        end_over(end, meets, depth, x, y, z);
        trimmed_before(step);
        still_longer(length, step);
        measured(gauge, length, nominal);
        measured_on(gauge, length, nominal, day);
        measure(gauge, what, nominal, least, most, unit);
    }
}
