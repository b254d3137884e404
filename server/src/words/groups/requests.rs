//! What is wrong with the head of a request.

matchmark_core::phrases! {
    /// What is wrong with the head of a request.
    Requests {
        token_in_address();
        token_missing();
        token_unknown();
        if_none_match();
        tags(header);
        one_key();
        key_length();
        key_missing();
        too_many(most, seconds);
        page_size();
        limit();
        cursor();
        range(length);
        view_unknown();
        failed();
        read_stop_sheet();
    }
}
