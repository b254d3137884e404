//! What is wrong with a file of kits.

matchmark_core::phrases! {
    /// What is wrong with a file of kits.
    KitFiles {
        at(line, column, fault);
        serial_twice(line, serial);
        serial_taken(serial);
        no_design(design);
        no_revision(design, letter);
        withdrawn(letter);
        recalled(letter);
        column_missing();
        no_column(columns);
        column_twice();
        values(count, columns);
        most(most);
        choices();
        no_kits();
    }
}
