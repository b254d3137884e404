//! What is said of check dimensions.

crate::phrases! {
    /// What is said of check dimensions.
    Checks {
        head_number();
        head_what();
        head_class();
        head_nominal(unit);
        head_allowed(unit);
        head_tacked(unit);
        head_welded(unit);
        how_to_measure();
        sketches();
        heading_declared();
        heading_proposed();
        no_tolerance();
        named(name, words);
    }
}
