//! What a check dimension is, and the places between which it is measured: they follow "from" and "to".

crate::phrases! {
    /// What a check dimension is, and the places between which it is measured: they follow "from" and "to".
    Places {
        between(what, from, to);
        distance();
        distance_along(axis);
        spread();
        height();
        diagonal();
        width();
        end_middle(end, part);
        base_plane();
        crown(part);
        at_clock(on, degrees, faces, with);
        on_side(on, faces, with);
        on_middle(on, faces, with);
        turned(on, degrees, faces, towards, with);
        corner(part, other, end);
        bend_corner(part, bend);
        on_base(x, y);
        in_space(x, y, z);
        beyond_sawn(part, by, end);
        beyond_cut(part, by, end);
        beyond_part(part, by, end, met);
        beyond_fitted(part, by, end);
        in_from_sawn(part, by, end);
        in_from_cut(part, by, end);
        in_from_part(part, by, end, met);
        in_from_fitted(part, by, end);
        along_sawn(part, by, end);
        along_cut(part, by, end);
        along_part(part, by, end, met);
        along_fitted(part, by, end);
        with_end(end, part);
    }
}
