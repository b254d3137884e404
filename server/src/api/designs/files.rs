//! The files of a revision for machines and other programs.

use crate::http::App;
use crate::http::caller::Caller;
use crate::http::exported;
use crate::http::problem::Problem;
use crate::http::query::Query;
use axum::Json;
use axum::extract::{Path, State};
use axum::http::{HeaderMap, Method};
use axum::response::Response;
use matchmark_service::{FileView, LabelsWanted};
use serde::Serialize;
use utoipa::ToSchema;

/// The files of a revision or kit.
#[derive(Serialize, ToSchema)]
pub struct FileList {
    /// One entry a file, the archive of all of them last.
    pub files: Vec<FileView>,
}

/// List files for machines and programs
///
/// Tables as CSV and in one workbook, flat patterns as DXF and SVG, solids as STEP, a model as GLB, labels as PDF, and `all.zip` with all
/// of them and a manifest of hashes. None is given out of a recalled revision.
#[utoipa::path(get, path = "/v1/designs/{design}/revisions/{letter}/files", operation_id = "listRevisionFiles",
    tag = "files",
    params(("design" = String, Path), ("letter" = String, Path)),
    responses((status = 200, body = FileList)))]
pub async fn list(
    State(app): State<App>,
    Caller(who): Caller,
    Path((design, letter)): Path<(String, String)>,
) -> Result<Json<FileList>, Problem> {
    let of = app.files_of_revision(&who, &design, &letter).await?;
    Ok(Json(FileList { files: app.list_files(of).await? }))
}

/// Download a file for machines and programs
///
/// By its name in the list. It carries no code, so that no scan tells whether it is still current: check it with the printed sheet of the
/// same part. The archive is sent as it is made; where it breaks off, ask again.
#[utoipa::path(get, path = "/v1/designs/{design}/revisions/{letter}/files/{file}", operation_id = "downloadRevisionFile",
    tag = "files",
    params(("design" = String, Path), ("letter" = String, Path), ("file" = String, Path), LabelsWanted),
    responses((status = 200, content(
        (String = "text/csv"), (Vec<u8> = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"),
        (String = "image/vnd.dxf"), (String = "image/svg+xml"), (String = "model/step"), (Vec<u8> = "model/gltf-binary"),
        (Vec<u8> = "application/pdf"), (Vec<u8> = "application/zip")))))]
pub async fn read(
    State(app): State<App>,
    Caller(who): Caller,
    Path((design, letter, file)): Path<(String, String, String)>,
    Query(labels): Query<LabelsWanted>,
    method: Method,
    headers: HeaderMap,
) -> Result<Response, Problem> {
    let of = app.files_of_revision(&who, &design, &letter).await?;
    exported::answer(&app, of, &file, &labels, &method, &headers).await
}
