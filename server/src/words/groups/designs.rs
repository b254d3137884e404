//! The list of designs and the page of one.

matchmark_core::phrases! {
    /// The list of designs and the page of one.
    Designs {
        heading();
        none();
        caption();
        head_id();
        head_newest();
        not_published();
        draft_heading();
        draft_none();
        found(errors, warnings);
        found_first_choices(errors, warnings);
        findings_link();
        publish_link();
        revisions_heading();
        revisions_none();
        revisions_caption();
        revisions_letter(letter);
        notices_heading();
        notices_none();
        notices_caption();
        notices_head_step();
        notices_head_text();
        notices_number(number);
        notices_step(from, to);
        raise_link();
    } + counted {
        notices_kits(count, open, seen, done);
    }
}
