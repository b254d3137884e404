//! What a stop sheet says.

crate::phrases! {
    /// What a stop sheet says.
    StopSheets {
        title(revision);
        band();
        first();
        recalled(kit, design, revision, date, supplier);
        pack_of_another(pack_revision, revision);
        heading_hazard();
        heading_what_to_do();
        heading_remedies();
        heading_contact();
    }
}
