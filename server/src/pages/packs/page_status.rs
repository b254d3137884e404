//! Where a scanned code leads: whether that very page is still right, for whoever holds it.

use crate::http::App;
use crate::http::problem::Problem;
use crate::pages::house::contact::ask;
use crate::pages::layout::open_page;
use axum::extract::{Path, State};
use axum::response::Html;
use matchmark_core::seal::PageKind;
use matchmark_service::PageState;
use maud::html;

/// Says it in a word, then in a sentence.
pub async fn page(State(app): State<App>, Path(code): Path<String>) -> Result<Html<String>, Problem> {
    let status = app.page_status(&code).await?;
    let contact = app.contact().await?;
    let (class, mark, heading) = match status.state {
        PageState::Current => ("state", "\u{2713}", "Current"),
        PageState::Kept => ("state", "\u{2713}", "Kept beside the pack of what changed"),
        PageState::Outdated => ("state warn", "\u{25d2}", "Out of date"),
        PageState::NoticeFirst => ("state stop", "\u{25b2}", "Notice first"),
        PageState::Superseded => ("state warn", "\u{2717}", "Superseded"),
        PageState::Withdrawn => ("state warn", "\u{25b3}", "Withdrawn"),
        PageState::Recalled => ("state stop", "\u{25a0}", "Recalled: stop"),
        PageState::Unknown => ("state warn", "?", "Unknown"),
    };
    let main = html! {
        h1 { span aria-hidden="true" { (mark) " " } (heading) }
        div class=(class) { p { (status.words) } }
        @if let Some(page) = &status.page {
            h2 { "Compare with the paper in your hand" }
            div.plate {
                div { span.cap { "Kit" } span.big { (page.kit) } }
                div { span.cap { "Revision" } span.big { (page.revision) } }
                div { span.cap { "Design" } (page.design) }
                @match page.kind {
                    PageKind::Pack => div { span.cap { "Pack" } (page.pack) },
                    PageKind::StopSheet => div { span.cap { "Belongs to" } "a stop sheet" },
                    PageKind::Notice => div { span.cap { "Notice" } (page.notice) },
                }
                div { span.cap { "Page" } (page.page) " of " (page.pages) }
                div { span.cap { "Date of issue" } (page.date) }
            }
        }
        @if !matches!(status.state, PageState::Current | PageState::Kept) { (ask(&contact)) }
        p { "A signed page says where it comes from. Check again before you cut: this answer is of today." }
    };
    Ok(open_page(app.supplier(), &format!("{heading}: page status"), &main))
}
