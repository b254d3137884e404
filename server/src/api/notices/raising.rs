//! `/v1/designs/{design}/notices`, `/v1/kits/{serial}/notices` and `/v1/notices`

use crate::http::body::Json;
use crate::http::caller::{Caller, Publisher, Supporter};
use crate::http::conditions::once;
use crate::http::files::drawn_pages;
use crate::http::problem::Problem;
use crate::http::query::{Query, escaped};
use crate::http::{App, paging};
use axum::extract::{Path, State};
use axum::http::{HeaderMap, StatusCode, header};
use axum::response::{IntoResponse, Response};
use matchmark_service::{KitNotice, NewNotice, NoticeDetails, NoticeView, OutstandingWanted};
use serde::Serialize;
use utoipa::ToSchema;

/// All notices of a design, oldest first.
#[derive(Serialize, ToSchema)]
pub struct Notices {
    notices: Vec<NoticeView>,
}

/// The notices that concern a kit, oldest first.
#[derive(Serialize, ToSchema)]
pub struct KitNotices {
    notices: Vec<KitNotice>,
}

/// A page of notices to kits.
#[derive(Serialize, ToSchema)]
pub struct Outstanding {
    notices: Vec<KitNotice>,
    /// Cursor of the next page; absent on the last.
    #[serde(skip_serializing_if = "Option::is_none")]
    next: Option<String>,
}

/// Raise a notice
///
/// From a change between two revisions. Whom it concerns is computed: every kit of a revision before `to` that has, or lacks, any
/// part, check dimension or step that the change is about. What its builder has to do is computed from the revision of the kit.
#[utoipa::path(post, path = "/v1/designs/{design}/notices", operation_id = "raiseNotice",
    tag = "notices", request_body = NewNotice,
    params(("design" = String, Path), ("Idempotency-Key" = Option<String>, Header)),
    responses((status = 201, body = NoticeView, headers(("location" = String)))))]
pub async fn raise(
    State(app): State<App>,
    Publisher(who): Publisher,
    Path(design): Path<String>,
    headers: HeaderMap,
    body: Json<NewNotice>,
) -> Result<impl IntoResponse, Problem> {
    let once = once(&headers, &who, format!("designs/{design}/notices"), &body.bytes)?;
    let view = app.raise_notice(&who, &design, &body.value, &once).await?;
    let place = [(header::LOCATION, format!("/v1/designs/{}/notices/{}", view.design, view.number))];
    Ok((StatusCode::CREATED, place, axum::Json(view)))
}

/// List the notices of a design
#[utoipa::path(get, path = "/v1/designs/{design}/notices", operation_id = "listDesignNotices", tag = "notices",
    params(("design" = String, Path)),
    responses((status = 200, body = Notices)))]
pub async fn list(
    State(app): State<App>,
    Supporter(who): Supporter,
    Path(design): Path<String>,
) -> Result<axum::Json<Notices>, Problem> {
    let notices = app.notices(&who, &design).await?;
    Ok(axum::Json(Notices { notices }))
}

/// Read a notice
#[utoipa::path(get, path = "/v1/designs/{design}/notices/{notice}", operation_id = "readNotice", tag = "notices",
    params(("design" = String, Path), ("notice" = i64, Path)),
    responses((status = 200, body = NoticeDetails)))]
pub async fn read(
    State(app): State<App>,
    Supporter(who): Supporter,
    Path((design, notice)): Path<(String, String)>,
) -> Result<axum::Json<NoticeDetails>, Problem> {
    Ok(axum::Json(app.notice(&who, &design, &notice).await?))
}

/// List outstanding notices
///
/// One row for each kit and notice that is not done, in order of serial.
#[utoipa::path(get, path = "/v1/notices", operation_id = "listOutstandingNotices",
    tag = "notices", params(OutstandingWanted),
    responses((status = 200, body = Outstanding)))]
pub async fn outstanding(
    State(app): State<App>,
    Supporter(who): Supporter,
    Query(wanted): Query<OutstandingWanted>,
) -> Result<(HeaderMap, axum::Json<Outstanding>), Problem> {
    let mut filters = format!("done={}", wanted.done);
    let named = [
        ("design", wanted.design.clone()),
        ("notice", wanted.notice.map(|number| number.to_string())),
        ("class", wanted.class.map(|class| class.name().to_owned())),
    ];
    for (name, value) in named {
        if let Some(value) = value {
            filters.push_str(&format!("&{name}={}", escaped(&value)));
        }
    }
    let page = paging::page(wanted.page_size, wanted.cursor.as_deref(), &filters)?;
    let listed = app.outstanding(&who, &wanted, &page).await?;
    let next = listed.next_after.map(|after| paging::cursor(&after, &filters));
    let size = wanted.page_size.map(|size| format!("&page_size={size}")).unwrap_or_default();
    let link = paging::link("/v1/notices", &format!("{filters}{size}"), next.as_ref());
    let notices = listed.items;
    Ok((link, axum::Json(Outstanding { notices, next })))
}

/// List the notices of a kit
///
/// With what is to be done to it: which parts are trimmed where, drilled, replaced, added or left out.
#[utoipa::path(get, path = "/v1/kits/{serial}/notices", operation_id = "listKitNotices", tag = "notices",
    params(("serial" = String, Path)),
    responses((status = 200, body = KitNotices)))]
pub async fn of_kit(
    State(app): State<App>,
    Caller(who): Caller,
    Path(serial): Path<String>,
) -> Result<axum::Json<KitNotices>, Problem> {
    let notices = app.kit_notices(&who, &serial).await?;
    Ok(axum::Json(KitNotices { notices }))
}

/// Draw the rework pages of a notice
///
/// The pages of the parts that the notice is about, for the kit's choices and measured values, printed as its last pack: what
/// changed, and new cut sheets, wraps and strips for it. They are no pack; the kit keeps its revision until it is moved.
#[utoipa::path(get, path = "/v1/kits/{serial}/notices/{notice}/pages", operation_id = "drawReworkPages",
    tag = "notices",
    params(("serial" = String, Path), ("notice" = i64, Path)),
    responses((status = 200, content_type = "application/pdf", body = Vec<u8>)))]
pub async fn pages(
    State(app): State<App>,
    Caller(who): Caller,
    Path((serial, notice)): Path<(String, String)>,
) -> Result<Response, Problem> {
    drawn_pages(&app, &who, &serial, &notice).await
}

/// Acknowledge a notice
///
/// Records that its holder has read it. Said by one of the supplier's people it is recorded, and shown, as on behalf of the holder.
#[utoipa::path(post, path = "/v1/kits/{serial}/notices/{notice}/acknowledgement", operation_id = "acknowledgeNotice",
    tag = "notices",
    params(("serial" = String, Path), ("notice" = i64, Path)),
    responses((status = 200, body = KitNotice)))]
pub async fn acknowledge(
    State(app): State<App>,
    Caller(who): Caller,
    Path((serial, notice)): Path<(String, String)>,
) -> Result<axum::Json<KitNotice>, Problem> {
    Ok(axum::Json(app.answer_notice(&who, &serial, &notice, false).await?))
}

/// Say that the work of a notice is done
///
/// Said by one of the supplier's people it is recorded, and shown, as on behalf of the holder.
#[utoipa::path(post, path = "/v1/kits/{serial}/notices/{notice}/completion", operation_id = "completeNotice",
    tag = "notices",
    params(("serial" = String, Path), ("notice" = i64, Path)),
    responses((status = 200, body = KitNotice)))]
pub async fn complete(
    State(app): State<App>,
    Caller(who): Caller,
    Path((serial, notice)): Path<(String, String)>,
) -> Result<axum::Json<KitNotice>, Problem> {
    Ok(axum::Json(app.answer_notice(&who, &serial, &notice, true).await?))
}
