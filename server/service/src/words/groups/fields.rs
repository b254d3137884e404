//! What is to be done about one value of a request.

matchmark_core::phrases! {
    /// What is to be done about one value of a request.
    Fields {
        design_id();
        serial();
        line();
        note();
        contact();
        email();
        unseen(code);
        nul();
        softening(words);
        change_class();
        save_or_revision();
        figures_hash();
        nothing_to_measure();
        gauges(gauges);
        choices(example);
        later_revision();
        search();
        token_lasts();
        token_owner();
    }
}
