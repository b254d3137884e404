//! `/v1/pages`, `/v1/files` and `/v1/public-key`: what a page's code says, and whether a file was issued.

use super::App;
use super::problem::Problem;
use crate::service::{FileStatus, PageStatus};
use axum::extract::{Path, State};
use serde::Serialize;
use utoipa::ToSchema;

/// The keys with which pages and what is said of designs can be checked offline.
#[derive(Serialize, ToSchema)]
pub struct PublicKeyView {
    /// Ed25519 public key, 64 hexadecimal digits; null when the service signs nothing.
    public_key: Option<String>,
    /// The same for the status of designs: the key above unless one of its own is set.
    status_public_key: Option<String>,
    /// Keys that pages were signed with before, newest first.
    former_public_keys: Vec<String>,
}

/// Say whether a page is still right
///
/// `code` is what the scanned code of a page holds, with or without the address before it. Anyone may ask: the answer names no customer.
#[utoipa::path(get, path = "/v1/pages/{code}", tag = "pages", security(()),
    params(("code" = String, Path)), responses((status = 200, body = PageStatus)))]
pub async fn status(State(app): State<App>, Path(code): Path<String>) -> Result<axum::Json<PageStatus>, Problem> {
    Ok(axum::Json(app.page_status(&code).await?))
}

/// Say whether a file was issued
///
/// `sha256` is the SHA-256 of a file, 64 hexadecimal digits. Anyone may ask whether it is that of a pack, byte for byte: the answer
/// names no customer.
#[utoipa::path(get, path = "/v1/files/{sha256}", tag = "pages", security(()),
    params(("sha256" = String, Path)), responses((status = 200, body = FileStatus)))]
pub async fn file(State(app): State<App>, Path(sha256): Path<String>) -> Result<axum::Json<FileStatus>, Problem> {
    Ok(axum::Json(app.issued_file(&sha256).await?))
}

/// Read the public keys
#[utoipa::path(get, path = "/v1/public-key", tag = "pages", security(()), responses((status = 200, body = PublicKeyView)))]
pub async fn public_key(State(app): State<App>) -> axum::Json<PublicKeyView> {
    axum::Json(PublicKeyView {
        public_key: app.public_key(),
        status_public_key: app.status_public_key(),
        former_public_keys: app.former_public_keys(),
    })
}
