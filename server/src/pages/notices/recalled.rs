//! What the holder of a recalled kit sees once the stop sheet is acknowledged: what to do and what is offered, before any drawing.

use crate::pages::words::{answered, day};
use matchmark_service::StopSheet;
use maud::{Markup, html};

/// What is to be done about the kit.
pub fn remedy(sheet: &StopSheet) -> Markup {
    html! {
        div.state.stop {
            p { span.mark aria-hidden="true" { "\u{25a0}" } "Recalled: revision " (sheet.revision) " was recalled on " (day(&sheet.recalled_at)) ". Do what the stop sheet says:" }
            p.note { (sheet.what_to_do) }
            p { a href={"/kits/" (sheet.kit) "/stop-sheets/" (sheet.revision)} { "Read the whole stop sheet" } }
        }
        section aria-labelledby="offer" {
            h2 id="offer" { "What " (sheet.supplier) " offers you" }
            p.note { (sheet.remedies) }
            @if let Some(at) = &sheet.acknowledged_at {
                p.small { "The stop sheet was acknowledged " (answered(Some(at), sheet.acknowledged_by.as_ref())) "." }
            }
        }
    }
}

/// Stands in the place of the packs to work from.
pub fn no_pack(revision: &str) -> Markup {
    html! {
        p { "There is no pack to work from: revision " (revision) " was recalled. Its packs stay listed below for reference; build nothing from them unless the stop sheet says so." }
    }
}
