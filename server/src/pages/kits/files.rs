//! The files of a kit for machines and other programs.

use crate::http::App;
use crate::http::exported;
use crate::http::problem::Problem;
use crate::http::query::Query;
use crate::pages::visitor::Visitor;
use axum::extract::{Path, State};
use axum::http::{HeaderMap, Method};
use axum::response::Response;
use matchmark_service::LabelsWanted;

/// Hands out a file.
pub async fn download(
    State(app): State<App>,
    visitor: Visitor,
    Path((serial, file)): Path<(String, String)>,
    Query(labels): Query<LabelsWanted>,
    method: Method,
    headers: HeaderMap,
) -> Result<Response, Problem> {
    let of = app.files_of_kit(&visitor.who, &serial).await?;
    exported::answer(&app, of, &file, &labels, &method, &headers).await
}
