//! `/v1/pages` and `/P`: what a page's code says.

use super::App;
use super::home::escaped;
use super::problem::Problem;
use crate::service::{PageState, PageStatus};
use axum::extract::{Path, State};
use axum::response::Html;
use serde::Serialize;
use utoipa::ToSchema;

/// The key with which codes can be checked offline.
#[derive(Serialize, ToSchema)]
pub struct PublicKeyView {
    /// Ed25519 public key, 64 hexadecimal digits; null when the service signs nothing.
    public_key: Option<String>,
}

/// Say whether a page is still right
///
/// `code` is what the scanned code of a page holds, with or without the address before it. Anyone may ask: the answer names no customer.
#[utoipa::path(get, path = "/v1/pages/{code}", tag = "pages", security(()),
    params(("code" = String, Path)), responses((status = 200, body = PageStatus)))]
pub async fn status(State(app): State<App>, Path(code): Path<String>) -> Result<axum::Json<PageStatus>, Problem> {
    Ok(axum::Json(app.page_status(&code).await?))
}

/// Read the public key
#[utoipa::path(get, path = "/v1/public-key", tag = "pages", security(()), responses((status = 200, body = PublicKeyView)))]
pub async fn public_key(State(app): State<App>) -> axum::Json<PublicKeyView> {
    axum::Json(PublicKeyView { public_key: app.public_key() })
}

/// The same for people: where a scanned code leads.
pub async fn page(State(app): State<App>, Path(code): Path<String>) -> Result<Html<String>, Problem> {
    let status = app.page_status(&code).await?;
    let (mark, heading) = match status.state {
        PageState::Current => ("\u{2713}", "Current"),
        PageState::Superseded => ("\u{2717}", "Superseded"),
        PageState::Withdrawn => ("!", "Withdrawn"),
        PageState::Recalled => ("\u{2717}", "Recalled: stop"),
        PageState::Unknown => ("?", "Unknown"),
    };
    let facts = status.page.map_or_else(String::new, |page| {
        let rows = [
            ("design", page.design),
            ("revision", page.revision),
            ("kit", page.kit),
            ("pack", page.pack),
            ("page", format!("{} of {}", page.page, page.pages)),
            ("date of issue", page.date),
        ];
        let rows = rows.map(|(name, value)| format!("<tr><th scope=\"row\">{name}<td>{}", escaped(&value)));
        format!("<p>Compare with the paper in your hand:<table>{}</table>", rows.concat())
    });
    Ok(Html(format!(
        "<!doctype html><html lang=\"en\"><meta charset=\"utf-8\"><meta name=\"viewport\" content=\"width=device-width\">\
         <title>{heading}: page status, {supplier}</title><style>{STYLE}</style><main><p>{supplier}<h1>{mark} {heading}</h1>\
         <p>{words}</p>{facts}<p>A signed page says where it comes from. Check again before you cut: this answer is of today.</main>",
        supplier = escaped(app.supplier()),
        words = escaped(&status.words),
    )))
}

const STYLE: &str = "body{font:1.15rem/1.5 system-ui,sans-serif;margin:0;color:#000;background:#fff}main{max-width:34rem;margin:auto;\
padding:1rem}h1{font-size:2.2rem;margin:.2em 0}table{border-collapse:collapse;width:100%}th{text-align:left;font-weight:normal}\
td{font-weight:bold}th,td{padding:.35rem 0;border-bottom:1px solid #888}";
