//! What a member is in a roll structure.

crate::phrases! {
    /// What a member is in a roll structure.
    RollStructureWords {
        main_hoop();
        hoop();
        stay();
        brace();
    }
}
