//! Where zero lies, and how the axes run.

crate::phrases! {
    /// Where zero lies, and how the axes run.
    Zero {
        heading();
        coordinates(unit);
        halfway(end, part, other);
        at(end, part);
        behind(length, end, part);
        in_front(length, end, part);
        right(length, end, part);
        left(length, end, part);
        below(length, end, part);
        above(length, end, part);
        base_plane();
        base_at_zero();
        base_below(z, length);
        base_above(z, length);
        nothing_lies();
        one_lies(part);
        some_lie(parts);
        forward();
        to_the_left();
        up();
        how_seen();
    }
}
