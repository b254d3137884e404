//! Notices that builders have not done yet.

use crate::http::App;
use crate::http::problem::Problem;
use crate::http::query::escaped;
use crate::pages::layout;
use crate::pages::visitor::Visitor;
use crate::pages::words::{answered_on, class, day, tag};
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
    let words = visitor.words;
    let (says, heads) = (&words.outstanding, &words.labels);
    let title = match wanted.notice {
        Some(number) => says.heading_one(number, &wanted.design),
        None => says.heading().to_owned(),
    };
    let next = listed.next_after.as_ref().map(|after| {
        let notice = wanted.notice.map(|number| format!("&notice={number}")).unwrap_or_default();
        format!("/notices?design={}{notice}&after={}", escaped(&wanted.design), escaped(after))
    });
    let main = html! {
        h1 { (title) }
        @if listed.items.is_empty() { p { (says.none()) } } @else {
            table.stack {
                caption.unseen { (says.caption()) }
                thead { tr { th scope="col" { (heads.kit()) } th scope="col" { (heads.notice()) } th scope="col" { (heads.class()) } th scope="col" { (says.head_raised()) } th scope="col" { (says.head_how_far()) } } }
                tbody {
                    @for notice in &listed.items {
                        tr {
                            th scope="row" data-is=(heads.kit()) { a.mono href={"/kits/" (notice.kit)} { (notice.kit) } }
                            td data-is=(heads.notice()) { (says.notice(notice.number, &notice.design, &notice.from, &notice.to)) }
                            td data-is=(heads.class()) { (class(words, notice.class)) }
                            td data-is=(says.head_raised()) { (day(&notice.at)) }
                            td data-is=(says.head_how_far()) {
                                @match notice.state {
                                    NoticeState::Open => (tag("tag", "\u{25cb}", says.open())),
                                    NoticeState::Acknowledged => {
                                        (tag("tag", "\u{25d0}", says.seen())) " "
                                        (answered_on(words, notice.acknowledged_at.as_deref(), notice.acknowledged_by.as_ref()))
                                    }
                                    NoticeState::Done => {
                                        (tag("tag good", "\u{25cf}", says.done())) " "
                                        (answered_on(words, notice.done_at.as_deref(), notice.done_by.as_ref()))
                                    }
                                }
                            }
                        }
                    }
                }
            }
        }
        @if let Some(next) = next { p { a.button.quiet rel="next" href=(next) { (heads.next_page()) } } }
    };
    Ok(layout::page(&app, &visitor, "/notices", &title, &main))
}
