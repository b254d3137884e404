//! How steps are called beside those of another order.

crate::phrases! {
    /// How steps are called beside those of another order.
    StepNames {
        of_notice(notice, step);
        was(step);
        changed(step);
        new();
        in_place(step);
        moved_to_start(step);
        moved_after(step, after);
        new_at_start();
        new_after(after);
    }
}
