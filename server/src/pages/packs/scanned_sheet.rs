//! Where a scanned code leads: whether that very page is still right, for whoever holds it.

use crate::http::App;
use crate::http::problem::Problem;
use crate::pages::house::contact::ask;
use crate::pages::layout::open_page;
use crate::words::Words;
use axum::extract::{Path, State};
use axum::response::Html;
use matchmark_core::seal::PageKind;
use matchmark_service::PageState;
use maud::html;

/// Says it in a word, then in a sentence.
pub async fn page(
    State(app): State<App>,
    words: &'static Words,
    Path(code): Path<String>,
) -> Result<Html<String>, Problem> {
    let status = app.page_status(&code).await?;
    let contact = app.contact().await?;
    let (says, heads) = (&words.page_status, &words.labels);
    let (class, mark, heading) = match status.state {
        PageState::Current => ("state", "\u{2713}", says.current()),
        PageState::Kept => ("state", "\u{2713}", says.kept()),
        PageState::Outdated => ("state warn", "\u{25d2}", says.outdated()),
        PageState::NoticeFirst => ("state stop", "\u{25b2}", says.notice_first()),
        PageState::Superseded => ("state warn", "\u{2717}", says.superseded()),
        PageState::Withdrawn => ("state warn", "\u{25b3}", says.withdrawn()),
        PageState::Recalled => ("state stop", "\u{25a0}", says.recalled()),
        PageState::Unknown => ("state warn", "?", says.unknown()),
    };
    let main = html! {
        h1 { span aria-hidden="true" { (mark) " " } (heading) }
        div class=(class) { p { (status.words) } }
        @if let Some(page) = &status.page {
            h2 { (says.compare_heading()) }
            div.plate {
                div { span.cap { (heads.kit()) } span.big { (page.kit) } }
                div { span.cap { (heads.revision()) } span.big { (page.revision) } }
                div { span.cap { (heads.design()) } (page.design) }
                @match page.kind {
                    PageKind::Pack => div { span.cap { (heads.pack()) } (page.pack) },
                    PageKind::StopSheet => div { span.cap { (says.belongs_to()) } (says.belongs_to_stop_sheet()) },
                    PageKind::Notice => div { span.cap { (heads.notice()) } (page.notice) },
                }
                div { span.cap { (says.page()) } (says.page_of(page.page, page.pages)) }
                div { span.cap { (says.issued()) } (page.date) }
            }
        }
        @if !matches!(status.state, PageState::Current | PageState::Kept) { (ask(words, &contact)) }
        p { (says.check_again()) }
    };
    Ok(open_page(words, app.supplier(), &says.title(heading), &main))
}
