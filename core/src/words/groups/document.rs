//! What a file says of itself, for programs that show files.

crate::phrases! {
    /// What a file says of itself, for programs that show files.
    DocumentWords {
        title_of_draft(design);
        title(design, revision);
        title_of_wraps(design, wraps);
        title_of_stop_sheet(design, kit, sheet);
        subject(kit, pack, hash);
    }
}
