//! What the holder of a recalled kit sees once the stop sheet is acknowledged: what to do and what is offered, before any drawing.

use crate::pages::words::{answered_on, day};
use crate::words::Words;
use matchmark_service::StopSheet;
use maud::{Markup, html};

/// What is to be done about the kit.
pub fn remedy(words: &Words, sheet: &StopSheet) -> Markup {
    let says = &words.stop_sheet;
    html! {
        div.state.stop {
            p { span.mark aria-hidden="true" { "\u{25a0}" } (says.remedy_state(&sheet.revision, day(&sheet.recalled_at))) }
            p.note { (sheet.what_to_do) }
            p { a href={"/kits/" (sheet.kit) "/stop-sheets/" (sheet.revision)} { (says.remedy_link()) } }
        }
        section aria-labelledby="offer" {
            h2 id="offer" { (says.remedy_heading(&sheet.supplier)) }
            p.note { (sheet.remedies) }
            @if let Some(at) = &sheet.acknowledged_at {
                p.small { (says.remedy_acknowledged(answered_on(words, Some(at), sheet.acknowledged_by.as_ref()))) }
            }
        }
    }
}

/// Stands in the place of the packs to work from.
pub fn no_pack(words: &Words, revision: &str) -> Markup {
    html! { p { (words.stop_sheet.no_pack(revision)) } }
}
