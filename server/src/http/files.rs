//! Files as answers: packs, whole or in part, and the pages of a notice.

use super::App;
use super::accept::Accepted;
use super::problem::Problem;
use super::ranges::ByteRange;
use axum::http::{HeaderMap, HeaderValue, Method, header};
use axum::response::{IntoResponse, Response};
use matchmark_service::{PackFile, Principal};

/// The file of a pack, or the part of it that is asked for; records that a download began.
pub async fn hand_out(
    app: &App,
    who: &Principal,
    serial: &str,
    number: &str,
    method: &Method,
    headers: &HeaderMap,
) -> Result<Response, Problem> {
    let file = app.pack_file(who, serial, number).await?;
    Accepted::of(method, headers).must_take("application/pdf")?;
    let part = ByteRange::asked(headers, &file.sha256, file.bytes.len())?;
    if *method == Method::GET && (part.begins() || !app.has_fetched(who, &file).await?) {
        app.record_download(who, &file).await;
    }
    let facts = [
        (header::CONTENT_TYPE, HeaderValue::from_static("application/pdf")),
        (header::CONTENT_DISPOSITION, disposition(&file)),
    ];
    let answer = part.answer(file.bytes, &file.sha256);
    Ok((facts, answer).into_response())
}

/// The rework pages of a notice as a file.
pub async fn drawn_pages(app: &App, who: &Principal, serial: &str, notice: &str) -> Result<Response, Problem> {
    let bytes = app.notice_pages(who, serial, notice).await?;
    // Of letters, digits and hyphens, as both are known by now.
    let name = format!("attachment; filename=\"{serial}-notice-{notice}.pdf\"");
    let headers = [(header::CONTENT_TYPE, "application/pdf".to_owned()), (header::CONTENT_DISPOSITION, name)];
    Ok((headers, bytes).into_response())
}

/// A file name of plain ASCII: ids and serials are letters, digits and hyphens.
fn disposition(pack: &PackFile) -> HeaderValue {
    let name =
        format!("attachment; filename=\"{}-{}-rev-{}-pack-{}.pdf\"", pack.kit, pack.design, pack.revision, pack.number);
    HeaderValue::from_str(&name).unwrap_or(HeaderValue::from_static("attachment"))
}
