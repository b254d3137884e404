//! The state of a job in a cell, what became of a kit, and the sums of both.

matchmark_core::phrases! {
    /// The state of a job in a cell, what became of a kit, and the sums of both.
    JobStates {
        waiting();
        running();
        cancelling();
        cancelled();
        done();
        kit_issued();
        kit_current();
        kit_refused();
        kit_left();
        sums_none();
    } + counted {
        sums_issued(count);
        sums_current(count);
        sums_refused(count);
        sums_left(count);
        sums_waiting(count);
    }
}
