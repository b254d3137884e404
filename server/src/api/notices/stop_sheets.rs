//! `/v1/kits/{serial}/stop-sheets`

use crate::http::App;
use crate::http::accept::prefers;
use crate::http::caller::Caller;
use crate::http::problem::Problem;
use crate::http::query::Query;
use axum::extract::{Path, State};
use axum::http::{HeaderMap, header};
use axum::response::{IntoResponse, Response};
use matchmark_core::pack::Paper;
use matchmark_service::StopSheet;
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

/// The stop sheets of a kit.
#[derive(Serialize, ToSchema)]
pub struct StopSheets {
    stop_sheets: Vec<StopSheet>,
}

/// List the stop sheets of a kit
///
/// Of the revision that the kit has, of those it has packs of, and of those that work for a notice brought parts of. Empty when nothing is recalled.
#[utoipa::path(get, path = "/v1/kits/{serial}/stop-sheets", operation_id = "listStopSheets", tag = "kits",
    params(("serial" = String, Path)),
    responses((status = 200, body = StopSheets)))]
pub async fn list(
    State(app): State<App>,
    Caller(who): Caller,
    Path(serial): Path<String>,
) -> Result<axum::Json<StopSheets>, Problem> {
    let stop_sheets = app.stop_sheets(&who, &serial).await?;
    Ok(axum::Json(StopSheets { stop_sheets }))
}

/// Read a stop sheet
///
/// As JSON, or as plain text when `Accept` asks for `text/plain`.
#[utoipa::path(get, path = "/v1/kits/{serial}/stop-sheets/{letter}", operation_id = "readStopSheet", tag = "kits",
    params(("serial" = String, Path), ("letter" = String, Path)),
    responses((status = 200, content((StopSheet = "application/json"), (String = "text/plain")))))]
pub async fn read(
    State(app): State<App>,
    Caller(who): Caller,
    Path((serial, letter)): Path<(String, String)>,
    headers: HeaderMap,
) -> Result<Response, Problem> {
    let sheet = app.stop_sheet(&who, &serial, &letter).await?;
    if prefers(&headers, "text/plain", "application/json") {
        let kind = [(header::CONTENT_TYPE, "text/plain; charset=utf-8")];
        return Ok((kind, app.stop_sheet_text(&sheet)).into_response());
    }
    Ok(axum::Json(sheet).into_response())
}

/// How a stop sheet is printed.
#[derive(Debug, Default, Deserialize, utoipa::IntoParams)]
#[serde(deny_unknown_fields)]
#[into_params(parameter_in = Query)]
pub struct Wanted {
    /// Paper; that of the kit's last pack when absent.
    paper: Option<Paper>,
}

/// Print a stop sheet
///
/// The sheet as a PDF, on the paper of the kit's last pack unless another is named.
#[utoipa::path(get, path = "/v1/kits/{serial}/stop-sheets/{letter}/pdf", operation_id = "printStopSheet", tag = "kits",
    params(("serial" = String, Path), ("letter" = String, Path), Wanted),
    responses((status = 200, content_type = "application/pdf", body = Vec<u8>)))]
pub async fn pdf(
    State(app): State<App>,
    Caller(who): Caller,
    Path((serial, letter)): Path<(String, String)>,
    Query(wanted): Query<Wanted>,
) -> Result<impl IntoResponse, Problem> {
    let drawn = app.stop_sheet_pdf(&who, &serial, &letter, wanted.paper).await?;
    Ok(([(header::CONTENT_TYPE, "application/pdf")], drawn))
}

/// Acknowledge a stop sheet
///
/// Records that the holder has read it. Only then are packs of the recalled revision handed out for this kit. Said by one of the
/// supplier's people it is recorded, and shown, as on behalf of the holder.
#[utoipa::path(post, path = "/v1/kits/{serial}/stop-sheets/{letter}/acknowledgement", operation_id = "acknowledgeRecall",
    tag = "kits",
    params(("serial" = String, Path), ("letter" = String, Path)),
    responses((status = 200, body = StopSheet)))]
pub async fn acknowledge(
    State(app): State<App>,
    Caller(who): Caller,
    Path((serial, letter)): Path<(String, String)>,
) -> Result<axum::Json<StopSheet>, Problem> {
    Ok(axum::Json(app.acknowledge_recall(&who, &serial, &letter).await?))
}
