//! What this version of the engine makes of a revision: `/v1/designs/{design}/revisions/{letter}/figures`

use crate::http::App;
use crate::http::body::Json;
use crate::http::caller::{Publisher, Supporter};
use crate::http::conditions::once;
use crate::http::problem::Problem;
use axum::extract::{Path, State};
use axum::http::HeaderMap;
use matchmark_service::{FiguresView, TakeFigures};

/// Read whether the figures of a revision are as recorded
///
/// Publishing records the figures of every part. Where this version of the engine computes others, by more than 0.01 mm or 0.01 degrees, they
/// are listed here part by part, and nothing of the revision is handed out until a publisher takes them.
#[utoipa::path(get, path = "/v1/designs/{design}/revisions/{letter}/figures", operation_id = "readFigures",
    tag = "revisions",
    params(("design" = String, Path), ("letter" = String, Path)),
    responses((status = 200, body = FiguresView)))]
pub async fn read(
    State(app): State<App>,
    Supporter(who): Supporter,
    Path((design, letter)): Path<(String, String)>,
) -> Result<axum::Json<FiguresView>, Problem> {
    Ok(axum::Json(app.figures(&who, &design, &letter).await?))
}

/// Take the figures of a revision as computed now
///
/// For a publisher who has looked at what differs. `sha256` is that of the figures as they were read; other ones are refused (422).
#[utoipa::path(post, path = "/v1/designs/{design}/revisions/{letter}/figures", operation_id = "takeFigures",
    tag = "revisions", request_body = TakeFigures,
    params(("design" = String, Path), ("letter" = String, Path), ("Idempotency-Key" = Option<String>, Header)),
    responses((status = 200, body = FiguresView)))]
pub async fn take(
    State(app): State<App>,
    Publisher(who): Publisher,
    Path((design, letter)): Path<(String, String)>,
    headers: HeaderMap,
    body: Json<TakeFigures>,
) -> Result<axum::Json<FiguresView>, Problem> {
    let once = once(&headers, &who, format!("designs/{design}/revisions/{letter}/figures"), &body.bytes)?;
    Ok(axum::Json(app.take_figures(&who, &design, &letter, &body.value, &once).await?))
}
