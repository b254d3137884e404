//! Which pages of the packs before stay valid.

crate::phrases! {
    /// Which pages of the packs before stay valid.
    KeptPages {
        heading(pack);
        keep_whole();
        cross_out_whole();
        pages(numbers);
        no_pages();
        in_part();
        head_pages();
        head_what();
        head_cross_out();
        heading_by_kind();
        keep();
        cross_out();
        sheets_but_for();
        sheets_of(parts);
        sheets_of_none();
        plates_of(parts);
        plates_of_none();
        jig_sheets_of(parts);
        jig_sheets_of_none();
        parts_list();
        pairs();
        cut_sheet();
        fit_up();
        checks();
        keep_it_but(cross_out);
        other_pages();
        on(cross_out, page);
        marks(parts);
        rows(parts);
        rows_of_cut_sheet(parts);
        places(parts);
        steps(steps);
        range(first, last);
    } + counted {
        check_dimensions(count);
    }
}
