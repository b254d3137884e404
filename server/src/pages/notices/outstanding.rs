//! Notices that builders have not done yet.

use crate::http::App;
use crate::http::problem::Problem;
use crate::http::query::escaped;
use crate::pages::layout;
use crate::pages::visitor::Visitor;
use crate::pages::words::{answered, class, day};
use axum::extract::{Query, State};
use axum::response::Response;
use matchmark_service::{NoticeState, OutstandingWanted, Page};
use maud::html;
use serde::Deserialize;

/// Which notices.
#[derive(Debug, Default, Deserialize)]
pub struct Wanted {
    #[serde(default)]
    design: String,
    #[serde(default)]
    notice: Option<i64>,
    #[serde(default)]
    after: String,
}

/// The list, in order of serial.
pub async fn outstanding(
    State(app): State<App>,
    visitor: Visitor,
    Query(wanted): Query<Wanted>,
) -> Result<Response, Problem> {
    let filter = OutstandingWanted {
        design: Some(wanted.design.clone()).filter(|design| !design.is_empty()),
        notice: wanted.notice,
        done: wanted.notice.is_some(),
        ..OutstandingWanted::default()
    };
    let listed = app.outstanding(&visitor.who, &filter, &Page { after: wanted.after, limit: 50 }).await?;
    let title = match wanted.notice {
        Some(number) => format!("Notice {number} of {}", wanted.design),
        None => "Notices outstanding".to_owned(),
    };
    let next = listed.next_after.as_ref().map(|after| {
        let notice = wanted.notice.map(|number| format!("&notice={number}")).unwrap_or_default();
        format!("/notices?design={}{notice}&after={}", escaped(&wanted.design), escaped(after))
    });
    let main = html! {
        h1 { (title) }
        @if listed.items.is_empty() { p { "None." } } @else {
            table.stack {
                caption.unseen { "Kits and their notices, in order of serial" }
                thead { tr { th scope="col" { "Kit" } th scope="col" { "Notice" } th scope="col" { "Class" } th scope="col" { "Raised" } th scope="col" { "How far" } } }
                tbody {
                    @for notice in &listed.items {
                        tr {
                            th scope="row" data-is="Kit" { a.mono href={"/kits/" (notice.kit)} { (notice.kit) } }
                            td data-is="Notice" { (notice.number) " of " (notice.design) ", " (notice.from) " to " (notice.to) }
                            td data-is="Class" { (class(notice.class)) }
                            td data-is="Raised" { (day(&notice.at)) }
                            td data-is="How far" {
                                @match notice.state {
                                    NoticeState::Open => span.tag { span aria-hidden="true" { "\u{25cb} " } "open" },
                                    NoticeState::Acknowledged => {
                                        span.tag { span aria-hidden="true" { "\u{25d0} " } "seen" } " "
                                        (answered(notice.acknowledged_at.as_deref(), notice.acknowledged_by.as_ref()))
                                    }
                                    NoticeState::Done => {
                                        span.tag.good { span aria-hidden="true" { "\u{25cf} " } "done" } " "
                                        (answered(notice.done_at.as_deref(), notice.done_by.as_ref()))
                                    }
                                }
                            }
                        }
                    }
                }
            }
        }
        @if let Some(next) = next { p { a.button.quiet rel="next" href=(next) { "Next page" } } }
    };
    Ok(layout::page(&app, &visitor, "/notices", &title, &main))
}
