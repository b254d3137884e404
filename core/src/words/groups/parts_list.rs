//! What the parts list says.

crate::phrases! {
    /// What the parts list says.
    PartsList {
        head_number();
        head_section(unit);
        head_material();
        head_quantity();
        head_blank(unit);
        head_bends();
        head_mass();
        equal_parts();
        made();
        both_hands();
        total(count, numbers);
    } + counted {
        of_one_number(count);
    }
}
