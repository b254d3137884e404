//! What is said of the whole frame: notes, zero, choices, values to measure and materials.

crate::phrases! {
    /// What is said of the whole frame: notes, zero, choices, values to measure and materials.
    About {
        head_section();
        head_size(unit);
        head_material();
        head_strength(unit);
        head_clamp(unit);
        head_gauge();
        head_between();
        head_nominal(unit);
        head_allowed();
        head_this_kit(unit);
        heading_notes();
        heading_choices();
        choice(what, choice);
        heading_gauges();
        why_measure();
        made_already(parts);
        limits(least, most);
        not_told();
        heading_made_of();
        not_stated();
        heading_roll_structure();
        who_rules();
    }
}
