//! How to print at true scale, and how to check it.

crate::phrases! {
    /// How to print at true scale, and how to check it.
    Printing {
        heading_print();
        at_full_size();
        measure_bars(bar, allowed);
        measure_tube(diameter);
        try_wrap();
        inches_in_64ths();
        inches_in_thousandths();
        heading_check();
        paper(width, height, unit);
        corrected(bar, across, up, unit);
    }
}
