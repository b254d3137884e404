//! What kinds of problem that only a request has are called, and what they mean.

matchmark_core::phrases! {
    /// What kinds of problem that only a request has are called, and what they mean.
    RequestKinds {
        token_needed();
        token_needed_about();
        too_many_requests();
        too_many_requests_about();
        form_refused();
        form_refused_about();
        method_not_allowed();
        method_not_allowed_about();
        bad_request();
        bad_request_about();
        malformed_json();
        malformed_json_about();
        too_large();
        too_large_about();
        too_slow();
        too_slow_about();
        media_type();
        media_type_about();
        not_acceptable();
        not_acceptable_about();
        range_refused();
        range_refused_about();
        key_missing();
        key_missing_about();
        not_ready();
        not_ready_about();
    }
}
