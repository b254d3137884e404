//! Files for machines and other programs as answers: one whole, or all of them in an archive as it is made.

use super::App;
use super::accept::Accepted;
use super::problem::Problem;
use super::ranges::ByteRange;
use axum::body::{Body, Bytes, HttpBody};
use axum::http::{HeaderMap, HeaderValue, Method, header};
use axum::response::{IntoResponse, Response};
use hyper::body::Frame;
use matchmark_service::engine::files::Chunks;
use matchmark_service::{FilesOf, LabelsWanted, ServiceError};
use std::pin::Pin;
use std::task::{Context, Poll};

/// Name of the archive, and its media type.
const BUNDLE: &str = "all.zip";
const ZIP: &str = "application/zip";

/// The file of this name.
pub async fn answer(
    app: &App,
    of: FilesOf,
    name: &str,
    labels: &LabelsWanted,
    method: &Method,
    headers: &HeaderMap,
) -> Result<Response, Problem> {
    let accepted = Accepted::of(method, headers);
    if name == BUNDLE {
        accepted.must_take(ZIP)?;
        let saved_as = of.saved_as(name);
        let chunks = app.make_bundle(of, labels).await?;
        let facts = [
            (header::CONTENT_TYPE, HeaderValue::from_static(ZIP)),
            (header::CONTENT_DISPOSITION, disposition(&saved_as)),
        ];
        return Ok((facts, Body::new(Archive(chunks))).into_response());
    }
    let file = app.make_file(of, name, labels).await?;
    accepted.must_take(file.media_type)?;
    let part = ByteRange::asked(headers, &file.sha256, file.bytes.len())?;
    let facts = [
        (header::CONTENT_TYPE, HeaderValue::from_static(file.media_type)),
        (header::CONTENT_DISPOSITION, disposition(&file.saved_as)),
    ];
    Ok((facts, part.answer(file.bytes, &file.sha256)).into_response())
}

/// A file name of plain ASCII: ids, serials and names of members are letters, digits, hyphens, underscores and points.
fn disposition(name: &str) -> HeaderValue {
    HeaderValue::from_str(&format!("attachment; filename=\"{name}\"")).unwrap_or(HeaderValue::from_static("attachment"))
}

/// An archive as it is made. Where it breaks off, so does the connection, so that nobody takes a part of it for the whole.
struct Archive(Chunks);

impl HttpBody for Archive {
    type Data = Bytes;
    type Error = ServiceError;

    fn poll_frame(
        mut self: Pin<&mut Self>,
        context: &mut Context<'_>,
    ) -> Poll<Option<Result<Frame<Bytes>, ServiceError>>> {
        self.0.poll_next(context).map(|piece| {
            piece.map(|piece| {
                let piece = piece.inspect_err(|error| tracing::warn!(%error, "an archive of files broke off"));
                piece.map(|bytes| Frame::data(Bytes::from(bytes)))
            })
        })
    }
}
