//! The finished parts of a revision as solids.

use crate::http::App;
use crate::http::caller::Caller;
use crate::http::problem::Problem;
use axum::extract::{Path, State};
use axum::http::{HeaderValue, header};
use axum::response::IntoResponse;

/// Download a member as a solid
///
/// An exchange file of ISO 10303-21 with one closed solid, in mm: the first point of the centreline at the origin, the first leg
/// along x, the index line towards z. Cuts are true through the wall; nothing is taken off for relief.
#[utoipa::path(get, path = "/v1/designs/{design}/revisions/{letter}/members/{member}/solid.step", operation_id = "downloadSolid",
    tag = "solids",
    params(("design" = String, Path), ("letter" = String, Path), ("member" = String, Path)),
    responses((status = 200, content_type = "model/step", body = String)))]
pub async fn step(
    State(app): State<App>,
    Caller(who): Caller,
    Path((design, letter, member)): Path<(String, String, String)>,
) -> Result<impl IntoResponse, Problem> {
    let sheets = app.sheets(&who, &design, &letter).await?;
    let text = app.solid(sheets, member.clone()).await?;
    // Ids and names are letters, digits, hyphens, underscores and points.
    let name = format!("attachment; filename=\"{design}-rev-{letter}-{member}.step\"");
    let disposition = HeaderValue::from_str(&name).unwrap_or(HeaderValue::from_static("attachment"));
    let facts =
        [(header::CONTENT_TYPE, HeaderValue::from_static("model/step")), (header::CONTENT_DISPOSITION, disposition)];
    Ok((facts, text))
}
