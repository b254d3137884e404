//! The paper of a pack, in a cell and to choose from.

matchmark_core::phrases! {
    /// The paper of a pack, in a cell and to choose from.
    Papers {
        a4();
        a3();
        letter();
        tabloid();
        roll();
    }
}
