//! What is wanted in a body of JSON, and what stands there instead.

matchmark_core::phrases! {
    /// What is wanted in a body of JSON, and what stands there instead.
    JsonTypes {
        unknown_field(name, known);
        missing_field(name);
        not_read(error);
        give(wanted, found);
        give_at(wanted, found, place);
        number();
        whole_number();
        flag();
        list();
        object();
        text();
        the_text(text);
        the_number(number);
    }
}
