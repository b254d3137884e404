//! `/v1/kits/{serial}/packs`

use crate::http::App;
use crate::http::body::Json;
use crate::http::caller::Caller;
use crate::http::conditions::keyed_once;
use crate::http::files::hand_out;
use crate::http::problem::Problem;
use axum::extract::{Path, State};
use axum::http::{HeaderMap, HeaderValue, Method, StatusCode, header};
use axum::response::{IntoResponse, Response};
use matchmark_core::pack::Manifest;
use matchmark_service::request_identity::for_packs;
use matchmark_service::{NewPack, PackView, VoidNumber};
use serde::Serialize;
use utoipa::ToSchema;

/// All packs of a kit, oldest first.
#[derive(Serialize, ToSchema)]
pub struct Packs {
    packs: Vec<PackView>,
    /// Numbers that no pack has and none will have, because its issue failed.
    void: Vec<VoidNumber>,
}

/// Issue a pack
///
/// Draws the pack of the kit's revision, keeps it and gives it the next number. It never changes afterwards. A builder may have the
/// pack of their own kit drawn again, after measuring or on other paper, so many times in 24 hours; the first pack of a revision comes
/// from the supplier. A repeated call answers with the pack as it stands by then.
#[utoipa::path(post, path = "/v1/kits/{serial}/packs", operation_id = "issuePack",
    tag = "packs", request_body = NewPack,
    params(("serial" = String, Path), ("Idempotency-Key" = String, Header)),
    responses((status = 201, body = PackView, headers(("location" = String)))))]
pub async fn issue(
    State(app): State<App>,
    Caller(who): Caller,
    Path(serial): Path<String>,
    headers: HeaderMap,
    body: Json<NewPack>,
) -> Result<impl IntoResponse, Problem> {
    let once = keyed_once(&headers, &who, format!("kits/{serial}/packs"), &body.bytes)?;
    let view = for_packs(app.issue_pack(&who, &serial, &body.value, &once)).await?;
    let place = format!("/v1/kits/{}/packs/{}", view.kit, view.number);
    Ok((StatusCode::CREATED, [(header::LOCATION, place)], axum::Json(view)))
}

/// List packs
#[utoipa::path(get, path = "/v1/kits/{serial}/packs", operation_id = "listPacks", tag = "packs",
    params(("serial" = String, Path)),
    responses((status = 200, body = Packs)))]
pub async fn list(
    State(app): State<App>,
    Caller(who): Caller,
    Path(serial): Path<String>,
) -> Result<axum::Json<Packs>, Problem> {
    let packs = app.packs(&who, &serial).await?;
    let void = app.void_packs(&who, &serial).await?;
    Ok(axum::Json(Packs { packs, void }))
}

/// Read the facts of a pack
#[utoipa::path(get, path = "/v1/kits/{serial}/packs/{number}", operation_id = "readPack", tag = "packs",
    params(("serial" = String, Path), ("number" = i64, Path)),
    responses((status = 200, body = PackView)))]
pub async fn read(
    State(app): State<App>,
    Caller(who): Caller,
    Path((serial, number)): Path<(String, String)>,
) -> Result<axum::Json<PackView>, Problem> {
    Ok(axum::Json(app.pack(&who, &serial, &number).await?))
}

/// Download a pack
///
/// The bytes as issued, whole or the one range asked for, with the hash of the whole in `Repr-Digest`. Each download is recorded
/// when it begins; HEAD, an answer of 304 and the rest of a download that broke off are not.
#[utoipa::path(get, path = "/v1/kits/{serial}/packs/{number}/file", operation_id = "downloadPack", tag = "packs",
    params(("serial" = String, Path), ("number" = i64, Path), ("Range" = Option<String>, Header), ("If-Range" = Option<String>, Header)),
    responses((status = 200, content_type = "application/pdf", body = Vec<u8>, headers(("etag" = String), ("repr-digest" = String))),
        (status = 206, content_type = "application/pdf", body = Vec<u8>, description = "The range", headers(("content-range" = String))),
        (status = 304, description = "The caller has it already")))]
pub async fn file(
    State(app): State<App>,
    Caller(who): Caller,
    Path((serial, number)): Path<(String, String)>,
    method: Method,
    headers: HeaderMap,
) -> Result<Response, Problem> {
    hand_out(&app, &who, &serial, &number, &method, &headers).await
}

/// Read the account of a pack
///
/// Every page with the hash of its content, its signed code and every line printed on it, so that a machine can check a pack.
#[utoipa::path(get, path = "/v1/kits/{serial}/packs/{number}/manifest", operation_id = "readManifest", tag = "packs",
    params(("serial" = String, Path), ("number" = i64, Path)),
    responses((status = 200, body = Manifest)))]
pub async fn manifest(
    State(app): State<App>,
    Caller(who): Caller,
    Path((serial, number)): Path<(String, String)>,
) -> Result<Response, Problem> {
    let account = app.pack_manifest(&who, &serial, &number).await?;
    Ok(([(header::CONTENT_TYPE, HeaderValue::from_static("application/json"))], account).into_response())
}
