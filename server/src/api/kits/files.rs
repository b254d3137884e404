//! The files of a kit for machines and other programs.

use crate::api::designs::files::FileList;
use crate::http::App;
use crate::http::caller::Caller;
use crate::http::exported;
use crate::http::problem::Problem;
use crate::http::query::Query;
use axum::Json;
use axum::extract::{Path, State};
use axum::http::{HeaderMap, Method};
use axum::response::Response;
use matchmark_service::LabelsWanted;

/// List a kit's files for machines and programs
///
/// As for its revision, with the kit's choices and measured values. None is given out while the kit is on hold.
#[utoipa::path(get, path = "/v1/kits/{serial}/files", operation_id = "listKitFiles", tag = "files",
    params(("serial" = String, Path)),
    responses((status = 200, body = FileList)))]
pub async fn list(
    State(app): State<App>,
    Caller(who): Caller,
    Path(serial): Path<String>,
) -> Result<Json<FileList>, Problem> {
    let of = app.files_of_kit(&who, &serial).await?;
    Ok(Json(FileList { files: app.list_files(of).await? }))
}

/// Download a kit's file for machines and programs
///
/// By its name in the list, as for its revision.
#[utoipa::path(get, path = "/v1/kits/{serial}/files/{file}", operation_id = "downloadKitFile", tag = "files",
    params(("serial" = String, Path), ("file" = String, Path), LabelsWanted),
    responses((status = 200, content(
        (String = "text/csv"), (Vec<u8> = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"),
        (String = "image/vnd.dxf"), (String = "image/svg+xml"), (String = "model/step"), (Vec<u8> = "model/gltf-binary"),
        (Vec<u8> = "application/pdf"), (Vec<u8> = "application/zip")))))]
pub async fn read(
    State(app): State<App>,
    Caller(who): Caller,
    Path((serial, file)): Path<(String, String)>,
    Query(labels): Query<LabelsWanted>,
    method: Method,
    headers: HeaderMap,
) -> Result<Response, Problem> {
    let of = app.files_of_kit(&who, &serial).await?;
    exported::answer(&app, of, &file, &labels, &method, &headers).await
}
