//! Hole strips at true scale.

crate::phrases! {
    /// Hole strips at true scale.
    HoleStrips {
        title(part);
        title_after(part, bend);
        head_hole();
        head_for();
        head_drill(unit);
        head_along(unit);
        head_clock();
        head_round(unit);
        section(size);
        datum_long_point();
        datum_bend(bend);
        circumference(circumference, printed, paper);
        glued(height);
        by_measure();
        long_points(first, second);
        long_point(end, clock);
        lower_edge(length);
        lower_edge_after(length, bend);
        upper_edge(length);
        upper_edge_after(length, bend);
        arrow();
    }
}
