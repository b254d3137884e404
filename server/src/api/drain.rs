//! Bodies that a handler did not read to their end.
//!
//! A refusal sent while the body is still on its way ends the connection, and the client may fail before it has read why. So
//! what is left of a body is read and thrown away, within bounds, before the answer goes out.

use super::body::LIMIT;
use axum::body::{Body, Bytes, HttpBody};
use axum::extract::Request;
use axum::middleware::Next;
use axum::response::Response;
use hyper::body::{Frame, SizeHint};
use std::future::poll_fn;
use std::pin::Pin;
use std::task::{Context, Poll};
use std::time::Duration;
use tokio::sync::oneshot;

const WITHIN: Duration = Duration::from_secs(5);

/// Runs the handler, then reads what it left of the body.
pub async fn drain(request: Request, next: Next) -> Response {
    let (parts, body) = request.into_parts();
    let (back, mut left) = oneshot::channel();
    let lent = Lent(Some((body, back)));
    let response = next.run(Request::from_parts(parts, Body::new(lent))).await;
    if let Ok(body) = left.try_recv() {
        // A client that takes longer has its connection closed, as it would have without waiting.
        let _ = tokio::time::timeout(WITHIN, discard(body)).await;
    }
    response
}

async fn discard(mut body: Body) {
    let mut read = 0;
    while read <= 2 * LIMIT {
        let frame = poll_fn(|context| Pin::new(&mut body).poll_frame(context)).await;
        let Some(Ok(frame)) = frame else { break };
        read += frame.data_ref().map_or(0, Bytes::len);
    }
}

/// A body that is handed back when its reader drops it before the end.
struct Lent(Option<(Body, oneshot::Sender<Body>)>);

impl HttpBody for Lent {
    type Data = Bytes;
    type Error = axum::Error;

    fn poll_frame(
        mut self: Pin<&mut Self>,
        context: &mut Context<'_>,
    ) -> Poll<Option<Result<Frame<Bytes>, axum::Error>>> {
        match &mut self.0 {
            Some((body, _)) => Pin::new(body).poll_frame(context),
            None => Poll::Ready(None),
        }
    }

    fn is_end_stream(&self) -> bool {
        self.0.as_ref().is_none_or(|(body, _)| body.is_end_stream())
    }

    fn size_hint(&self) -> SizeHint {
        match &self.0 {
            Some((body, _)) => body.size_hint(),
            None => SizeHint::with_exact(0),
        }
    }
}

impl Drop for Lent {
    fn drop(&mut self) {
        if let Some((body, back)) = self.0.take()
            && !body.is_end_stream()
        {
            // Nobody waits any more when the request was cut off.
            let _ = back.send(body);
        }
    }
}
