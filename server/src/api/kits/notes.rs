//! `/v1/kits/{serial}/notes`

use crate::http::App;
use crate::http::body::Json;
use crate::http::caller::Supporter;
use crate::http::conditions::once;
use crate::http::problem::Problem;
use axum::extract::{Path, State};
use axum::http::{HeaderMap, StatusCode};
use matchmark_service::{NewNote, NoteView};
use serde::Serialize;
use utoipa::ToSchema;

/// The notes of a kit, oldest first.
#[derive(Serialize, ToSchema)]
pub struct Notes {
    notes: Vec<NoteView>,
}

/// Add a note to a kit
///
/// For the supplier's own people; the builder does not see it.
#[utoipa::path(post, path = "/v1/kits/{serial}/notes", operation_id = "addNote",
    tag = "support", request_body = NewNote,
    params(("serial" = String, Path), ("Idempotency-Key" = Option<String>, Header)),
    responses((status = 201, body = Notes)))]
pub async fn add(
    State(app): State<App>,
    Supporter(who): Supporter,
    Path(serial): Path<String>,
    headers: HeaderMap,
    body: Json<NewNote>,
) -> Result<(StatusCode, axum::Json<Notes>), Problem> {
    let once = once(&headers, &who, format!("kits/{serial}/notes"), &body.bytes)?;
    let notes = app.add_note(&who, &serial, &body.value, &once).await?;
    Ok((StatusCode::CREATED, axum::Json(Notes { notes })))
}

/// Read the notes of a kit
#[utoipa::path(get, path = "/v1/kits/{serial}/notes", operation_id = "listNotes", tag = "support",
    params(("serial" = String, Path)),
    responses((status = 200, body = Notes)))]
pub async fn list(
    State(app): State<App>,
    Supporter(who): Supporter,
    Path(serial): Path<String>,
) -> Result<axum::Json<Notes>, Problem> {
    let notes = app.notes(&who, &serial).await?;
    Ok(axum::Json(Notes { notes }))
}
