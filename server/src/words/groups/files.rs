//! Files for machines and other programs.

matchmark_core::phrases! {
    /// Files for machines and other programs.
    Files {
        heading();
        about();
        all();
        workbook();
        cut_sheet();
        parts_list();
        solids();
        model();
        labels();
        cautions();
    }
}
