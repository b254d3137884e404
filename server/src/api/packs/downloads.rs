//! `/v1/kits/{serial}/downloads`

use crate::http::caller::Supporter;
use crate::http::problem::Problem;
use crate::http::query::{PageWanted, Query};
use crate::http::{App, paging};
use axum::extract::{Path, State};
use axum::http::HeaderMap;
use matchmark_service::Download;
use serde::Serialize;
use utoipa::ToSchema;

/// A page of downloads, newest first.
#[derive(Serialize, ToSchema)]
pub struct Downloads {
    downloads: Vec<Download>,
    /// Cursor of the next page; absent on the last.
    #[serde(skip_serializing_if = "Option::is_none")]
    next: Option<String>,
}

/// List who fetched which pack of a kit, and when
#[utoipa::path(get, path = "/v1/kits/{serial}/downloads", operation_id = "listDownloads", tag = "packs",
    params(("serial" = String, Path), PageWanted),
    responses((status = 200, body = Downloads)))]
pub async fn list(
    State(app): State<App>,
    Supporter(who): Supporter,
    Path(serial): Path<String>,
    Query(wanted): Query<PageWanted>,
) -> Result<(HeaderMap, axum::Json<Downloads>), Problem> {
    let path = format!("/v1/kits/{serial}/downloads");
    let page = paging::page(wanted.page_size, wanted.cursor.as_deref(), &path)?;
    let listed = app.downloads(&who, &serial, &page).await?;
    let next = listed.next_after.map(|after| paging::cursor(&after, &path));
    let size = wanted.page_size.map(|size| format!("page_size={size}")).unwrap_or_default();
    let link = paging::link(&path, &size, next.as_ref());
    Ok((link, axum::Json(Downloads { downloads: listed.items, next })))
}
