//! What of a part is not as it was recorded.

matchmark_core::phrases! {
    /// What of a part is not as it was recorded.
    FigureChanges {
        end_1(part);
        end_2(part);
        one_version_only(place);
        overall(place, by);
        path(place, by);
        long_point(place, by);
        outer_line(place, by);
        relief_line(place, by);
        bends(place, by);
        holes(place, by);
        size(place, by);
        overall_count(place);
        path_count(place);
        long_point_count(place);
        outer_line_count(place);
        relief_line_count(place);
        bends_count(place);
        holes_count(place);
        size_count(place);
    }
}
