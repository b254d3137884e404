//! `/v1/pack-jobs`: a pack for every kit of a revision.

use crate::api::packs::job_events;
use crate::http::body::Json;
use crate::http::caller::Supporter;
use crate::http::conditions::once;
use crate::http::problem::Problem;
use crate::http::query::{PageWanted, Query};
use crate::http::{App, paging};
use axum::extract::{Path, State};
use axum::http::{HeaderMap, StatusCode, header};
use axum::response::{IntoResponse, Response};
use matchmark_service::{NewPackJob, PackJobKit, PackJobView};
use serde::Serialize;
use utoipa::ToSchema;

/// A page of jobs, newest first.
#[derive(Serialize, ToSchema)]
pub struct PackJobs {
    jobs: Vec<PackJobView>,
    /// Cursor of the next page; absent on the last.
    #[serde(skip_serializing_if = "Option::is_none")]
    next: Option<String>,
}

/// A page of the kits of a job, in order of serial.
#[derive(Serialize, ToSchema)]
pub struct PackJobKits {
    kits: Vec<PackJobKit>,
    /// Cursor of the next page; absent on the last.
    #[serde(skip_serializing_if = "Option::is_none")]
    next: Option<String>,
}

/// Issue packs for all kits of a revision
///
/// For every kit that has the revision now. The answer comes at once; `Location` says where to see how far the work is. Kits whose
/// last pack is as a new one would be keep it. The work goes on after a restart, and no kit gets two packs of one job.
#[utoipa::path(post, path = "/v1/designs/{design}/revisions/{letter}/pack-jobs", operation_id = "startPackJob",
    tag = "packs", request_body = NewPackJob,
    params(("design" = String, Path), ("letter" = String, Path), ("Idempotency-Key" = Option<String>, Header)),
    responses((status = 202, body = PackJobView, headers(("location" = String)))))]
pub async fn create(
    State(app): State<App>,
    Supporter(who): Supporter,
    Path((design, letter)): Path<(String, String)>,
    headers: HeaderMap,
    body: Json<NewPackJob>,
) -> Result<impl IntoResponse, Problem> {
    let once = once(&headers, &who, format!("designs/{design}/revisions/{letter}/pack-jobs"), &body.bytes)?;
    let view = app.create_pack_job(&who, &design, &letter, &body.value, &once).await?;
    let place = format!("/v1/pack-jobs/{}", view.number);
    Ok((StatusCode::ACCEPTED, [(header::LOCATION, place)], axum::Json(view)))
}

/// List pack jobs
#[utoipa::path(get, path = "/v1/pack-jobs", operation_id = "listPackJobs", tag = "packs", params(PageWanted),
    responses((status = 200, body = PackJobs)))]
pub async fn list(
    State(app): State<App>,
    Supporter(who): Supporter,
    Query(wanted): Query<PageWanted>,
) -> Result<(HeaderMap, axum::Json<PackJobs>), Problem> {
    let page = paging::page(wanted.page_size, wanted.cursor.as_deref(), "pack-jobs")?;
    let listed = app.pack_jobs(&who, &page).await?;
    let next = listed.next_after.map(|after| paging::cursor(&after, "pack-jobs"));
    let size = wanted.page_size.map(|size| format!("page_size={size}")).unwrap_or_default();
    let link = paging::link("/v1/pack-jobs", &size, next.as_ref());
    Ok((link, axum::Json(PackJobs { jobs: listed.items, next })))
}

/// Read how far a pack job is
#[utoipa::path(get, path = "/v1/pack-jobs/{job}", operation_id = "readPackJob", tag = "packs",
    params(("job" = i64, Path)), responses((status = 200, body = PackJobView)))]
pub async fn read(
    State(app): State<App>,
    Supporter(who): Supporter,
    Path(job): Path<String>,
) -> Result<axum::Json<PackJobView>, Problem> {
    Ok(axum::Json(app.pack_job(&who, &job).await?))
}

/// Read what became of each kit of a pack job
#[utoipa::path(get, path = "/v1/pack-jobs/{job}/kits", operation_id = "listPackJobKits", tag = "packs",
    params(("job" = i64, Path), PageWanted), responses((status = 200, body = PackJobKits)))]
pub async fn kits(
    State(app): State<App>,
    Supporter(who): Supporter,
    Path(job): Path<String>,
    Query(wanted): Query<PageWanted>,
) -> Result<(HeaderMap, axum::Json<PackJobKits>), Problem> {
    let path = format!("/v1/pack-jobs/{job}/kits");
    let page = paging::page(wanted.page_size, wanted.cursor.as_deref(), &path)?;
    let listed = app.pack_job_kits(&who, &job, &page).await?;
    let next = listed.next_after.map(|after| paging::cursor(&after, &path));
    let size = wanted.page_size.map(|size| format!("page_size={size}")).unwrap_or_default();
    let link = paging::link(&path, &size, next.as_ref());
    Ok((link, axum::Json(PackJobKits { kits: listed.items, next })))
}

/// Watch a pack job
///
/// Server-sent events: `kit` with what became of each, in order, its id being the place among the results, then `end` with the job.
/// `Last-Event-ID` goes on after a place. A comment comes every 15 seconds when there is nothing else to tell.
#[utoipa::path(get, path = "/v1/pack-jobs/{job}/events", operation_id = "watchPackJob", tag = "packs",
    params(("job" = i64, Path), ("Last-Event-ID" = Option<i64>, Header)),
    responses((status = 200, content_type = "text/event-stream", body = serde_json::Value)))]
pub async fn events(
    State(app): State<App>,
    Supporter(who): Supporter,
    Path(job): Path<String>,
    headers: HeaderMap,
) -> Result<Response, Problem> {
    let job = app.pack_job(&who, &job).await?.number;
    let after = headers.get("last-event-id").and_then(|value| value.to_str().ok()?.parse().ok()).unwrap_or(0);
    Ok(job_events::events(app, who, job, after))
}

/// Cancel a pack job
///
/// It ends after the kit in hand; packs issued stay. A job that has ended stays as it is.
#[utoipa::path(post, path = "/v1/pack-jobs/{job}/cancellation", operation_id = "cancelPackJob", tag = "packs",
    params(("job" = i64, Path)), responses((status = 200, body = PackJobView)))]
pub async fn cancel(
    State(app): State<App>,
    Supporter(who): Supporter,
    Path(job): Path<String>,
) -> Result<axum::Json<PackJobView>, Problem> {
    Ok(axum::Json(app.cancel_pack_job(&who, &job).await?))
}
