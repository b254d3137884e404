//! What is wrong with the body of a request.

matchmark_core::phrases! {
    /// What is wrong with the body of a request.
    Bodies {
        ended_early();
        not_utf8();
        not_utf8_after(place);
        not_json(error);
        no_list();
        text_here();
        given_twice(name);
        csv_wanted();
        form_wanted();
        form_ended_early();
        form_not_read(error);
        form_of_another_session();
        form_from_elsewhere();
        files_count(most);
        not_base64(place);
        file_name(most);
    }
}
