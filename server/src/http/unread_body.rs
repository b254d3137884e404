//! Bodies that come too slowly, and those that a handler did not read to their end.
//!
//! A refusal sent while the body is still on its way ends the connection, and the client may fail before it has read why. So
//! what is left of a body is read and thrown away, within bounds, before the answer goes out. Whoever sends nothing for a while, or
//! does not come to an end, is not waited for: connections are few.

use crate::http::body::LIMIT;
use crate::http::problem::Problem;
use crate::http::problem_kinds as kinds;
use axum::body::{Body, Bytes, HttpBody};
use axum::extract::{Request, State};
use axum::middleware::Next;
use axum::response::{IntoResponse, Response};
use hyper::body::{Frame, SizeHint};
use std::future::poll_fn;
use std::io;
use std::pin::Pin;
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use std::task::{Context, Poll};
use std::time::Duration;
use tokio::sync::oneshot;
use tokio::time::{Instant, Sleep};

const WITHIN: Duration = Duration::from_secs(5);

/// How long a body may stand still, in one piece or in all beyond what its bytes take at the least rate, and how long all of it may
/// take.
const STILL: Duration = Duration::from_secs(30);
const WHOLE: Duration = Duration::from_secs(300);

/// Least bytes a second that a body comes at.
#[derive(Debug, Clone, Copy)]
pub struct LeastRate(pub u32);

/// Runs the handler, then reads what it left of the body.
pub async fn discard_unread(State(LeastRate(rate)): State<LeastRate>, request: Request, next: Next) -> Response {
    let (parts, body) = request.into_parts();
    let (back, mut left) = oneshot::channel();
    let slow = Arc::new(AtomicBool::new(false));
    let ends = Box::pin(tokio::time::sleep(WHOLE));
    let lent = Lent {
        body: Some((body, back)),
        begun: Instant::now(),
        came: 0,
        rate,
        waits: false,
        ends,
        slow: Arc::clone(&slow),
    };
    let response = next.run(Request::from_parts(parts, Body::new(lent))).await;
    if slow.load(Ordering::Relaxed) {
        return Problem::of(&kinds::TOO_SLOW).into_response();
    }
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
struct Lent {
    body: Option<(Body, oneshot::Sender<Body>)>,
    begun: Instant,
    /// Bytes that came.
    came: u64,
    /// Least bytes a second.
    rate: u32,
    /// Whether its reader waits for more.
    waits: bool,
    /// When that is no longer waited for.
    ends: Pin<Box<Sleep>>,
    /// Set when it was not waited for any longer.
    slow: Arc<AtomicBool>,
}

impl HttpBody for Lent {
    type Data = Bytes;
    type Error = axum::Error;

    fn poll_frame(
        mut self: Pin<&mut Self>,
        context: &mut Context<'_>,
    ) -> Poll<Option<Result<Frame<Bytes>, axum::Error>>> {
        let this = &mut *self;
        let Some((body, _)) = &mut this.body else { return Poll::Ready(None) };
        if let Poll::Ready(frame) = Pin::new(body).poll_frame(context) {
            this.waits = false;
            if let Some(Ok(frame)) = &frame {
                let bytes = frame.data_ref().map_or(0, Bytes::len);
                this.came = this.came.saturating_add(u64::try_from(bytes).unwrap_or(u64::MAX));
            }
            return Poll::Ready(frame);
        }
        if !this.waits {
            this.waits = true;
            let due = Duration::from_secs(this.came / u64::from(this.rate.max(1))).min(WHOLE);
            let ends = (Instant::now() + STILL).min(this.begun + STILL + due).min(this.begun + WHOLE);
            this.ends.as_mut().reset(ends);
        }
        if this.ends.as_mut().poll(context).is_pending() {
            return Poll::Pending;
        }
        this.slow.store(true, Ordering::Relaxed);
        this.body = None;
        Poll::Ready(Some(Err(axum::Error::new(io::Error::from(io::ErrorKind::TimedOut)))))
    }

    fn is_end_stream(&self) -> bool {
        self.body.as_ref().is_none_or(|(body, _)| body.is_end_stream())
    }

    fn size_hint(&self) -> SizeHint {
        match &self.body {
            Some((body, _)) => body.size_hint(),
            None => SizeHint::with_exact(0),
        }
    }
}

impl Drop for Lent {
    fn drop(&mut self) {
        if let Some((body, back)) = self.body.take()
            && !body.is_end_stream()
        {
            // Nobody waits any more when the request was cut off.
            let _ = back.send(body);
        }
    }
}
