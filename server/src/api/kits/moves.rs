//! `/v1/kits/{serial}/moves`

use crate::http::App;
use crate::http::body::Json;
use crate::http::caller::{Caller, Publisher};
use crate::http::conditions::once;
use crate::http::problem::Problem;
use axum::extract::{Path, State};
use axum::http::{HeaderMap, StatusCode};
use matchmark_service::{MoveView, NewMove};
use serde::Serialize;
use utoipa::ToSchema;

/// How a kit came to its revision, oldest move first.
#[derive(Serialize, ToSchema)]
pub struct Moves {
    moves: Vec<MoveView>,
}

/// Move a kit to another revision
///
/// Packs of other revisions stay on record and are superseded from then on; issue one of the new revision, which lists what changed. A
/// kit that comes back to a revision has its pack of that again. It is told of the notices of changes that the revision does not have.
/// The kit must be able to have its choices and measured values in the new revision.
#[utoipa::path(post, path = "/v1/kits/{serial}/moves", operation_id = "moveKit", tag = "kits", request_body = NewMove,
    params(("serial" = String, Path), ("Idempotency-Key" = Option<String>, Header)),
    responses((status = 201, body = MoveView)))]
pub async fn create(
    State(app): State<App>,
    Publisher(who): Publisher,
    Path(serial): Path<String>,
    headers: HeaderMap,
    body: Json<NewMove>,
) -> Result<(StatusCode, axum::Json<MoveView>), Problem> {
    let once = once(&headers, &who, format!("kits/{serial}/moves"), &body.bytes)?;
    Ok((StatusCode::CREATED, axum::Json(app.move_kit(&who, &serial, &body.value, &once).await?)))
}

/// List the moves of a kit
#[utoipa::path(get, path = "/v1/kits/{serial}/moves", operation_id = "listMoves", tag = "kits",
    params(("serial" = String, Path)),
    responses((status = 200, body = Moves)))]
pub async fn list(
    State(app): State<App>,
    Caller(who): Caller,
    Path(serial): Path<String>,
) -> Result<axum::Json<Moves>, Problem> {
    let moves = app.moves(&who, &serial).await?;
    Ok(axum::Json(Moves { moves }))
}
