//! What is to be done about one value of a request for stock plans.

matchmark_core::phrases! {
    /// What is to be done about one value of a request for stock plans.
    StockFields {
        serials(most);
        kits(most);
        allowance(most);
        seconds(most);
        no_section(section, known);
        two_sizes(section, size, other);
        of_section(section, cause);
    }
}
