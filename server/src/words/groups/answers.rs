//! When something was answered, and by whom: it stands alone, or after what was done.

matchmark_core::phrases! {
    /// When something was answered, and by whom: it stands alone, or after what was done.
    Answers {
        by_holder(when);
        on_behalf(when, role);
        on_behalf_named(when, role, name);
        by_gone(when);
        role_publisher();
        role_support();
        role_builder();
    }
}
