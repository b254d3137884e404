//! `/v1/pages`, `/v1/files` and `/v1/public-key`: what a page's code says, and whether a file was issued.

use crate::http::App;
use crate::http::problem::Problem;
use axum::extract::{Path, State};
use matchmark_service::{FileStatus, PageStatus, PublicKeyView};

/// Say whether a page is still right
///
/// `code` is what the scanned code of a page holds, with or without the address before it. Anyone may ask: the answer names no customer.
#[utoipa::path(get, path = "/v1/pages/{code}", operation_id = "readPageStatus", tag = "pages", security(()),
    params(("code" = String, Path)), responses((status = 200, body = PageStatus)))]
pub async fn status(State(app): State<App>, Path(code): Path<String>) -> Result<axum::Json<PageStatus>, Problem> {
    Ok(axum::Json(app.page_status(&code).await?))
}

/// Say whether a file was issued
///
/// `sha256` is the SHA-256 of a file, 64 hexadecimal digits. Anyone may ask whether it is that of a pack, byte for byte: the answer
/// names no customer.
#[utoipa::path(get, path = "/v1/files/{sha256}", operation_id = "readFileStatus", tag = "pages", security(()),
    params(("sha256" = String, Path)), responses((status = 200, body = FileStatus)))]
pub async fn file(State(app): State<App>, Path(sha256): Path<String>) -> Result<axum::Json<FileStatus>, Problem> {
    Ok(axum::Json(app.issued_file(&sha256).await?))
}

/// Read the public keys
#[utoipa::path(get, path = "/v1/public-key", operation_id = "readPublicKeys",
    tag = "pages", security(()), responses((status = 200, body = PublicKeyView)))]
pub async fn public_key(State(app): State<App>) -> Result<axum::Json<PublicKeyView>, Problem> {
    Ok(axum::Json(app.public_keys().await?))
}
