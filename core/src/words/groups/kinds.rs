//! What page kinds are called in the contents.

crate::phrases! {
    /// What page kinds are called in the contents.
    Kinds {
        stop_sheets();
        notices();
        changes();
        about();
        printing();
        drawings();
        parts_list();
        pairs();
        cut_sheet();
        stock_plan();
        bend_sheets();
        jig_sheets();
        fit_up();
        checks();
        wraps();
        plates();
        hole_strips();
    }
}
