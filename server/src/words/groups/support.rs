//! The box for whatever a caller can tell, and the answer.

use crate::words::marked;
use maud::{Markup, Render};

matchmark_core::phrases! {
    /// The box for whatever a caller can tell, and the answer.
    Support {
        heading();
        asked_label();
        asked_hint();
        nothing();
        more();
        which_caption();
        scanned_heading();
        scanned(page, pages, pack, kit, revision, date);
        revision_is(revision);
        recalled_first(revision);
        stop_sheet_link();
        newest();
        no_newest();
        since(newest, revision, changes);
        since_unlike(newest, revision);
        kit_link();
        person_button();
        notes_heading();
        none();
        note_label();
        note_hint();
        note_button();
        notices_heading();
        notice_seen(when);
        packs_heading();
        packs_caption();
        packs_head_fetched();
        packs_number(number);
        measured_heading();
        measured(gauge, value);
        moves_heading();
        move_line(day, from, to, reason);
    } + counted {
        fetched(count);
        fetched_named(count, at, role, name);
        fetched_builder(count, at);
        fetched_token(count, at, role);
        fetched_gone(count, at);
    } + marked(Render, marked => Markup) {
        since_mandatory(class, revision, note);
        notice(number, class, day, text);
    }
}
