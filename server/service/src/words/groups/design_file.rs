//! What is wrong with a file of a design.

matchmark_core::phrases! {
    /// What is wrong with a file of a design.
    DesignFiles {
        format(format);
        no_revisions();
        hash();
        letter(letter);
        document_hash();
        previous_chain();
        chain();
        states();
        numbers();
        document();
    }
}
