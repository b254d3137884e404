//! Drawings of the whole frame.

crate::phrases! {
    /// Drawings of the whole frame.
    Drawings {
        views();
        pictorial();
        third_angle();
        views_apart();
        how_to_read(unit, checks);
        how_to_read_pictorial();
        draft_alone(design);
        revision_alone(design, revision);
        scale_in_plane(reduction);
        cut_nothing_to_it();
        figure_of_notice(figure, notice);
        beside_a_notice();
    }
}
