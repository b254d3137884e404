//! Server-sent events (WHATWG HTML, section 9.2): an answer that goes on as long as something comes.

use axum::body::{Body, Bytes, HttpBody};
use axum::http::{HeaderValue, header};
use axum::response::Response;
use hyper::body::Frame;
use std::convert::Infallible;
use std::pin::Pin;
use std::task::{Context, Poll};
use tokio::sync::mpsc;

/// The answer that hands on what comes, the `first` of it given; `written` makes an event of it.
pub fn event_stream<T: Send + 'static>(first: Option<T>, rest: mpsc::Receiver<T>, written: fn(T) -> Bytes) -> Response {
    let mut response = Response::new(Body::new(Events { first, rest, written }));
    response.headers_mut().insert(header::CONTENT_TYPE, HeaderValue::from_static("text/event-stream"));
    response.headers_mut().insert(header::CACHE_CONTROL, HeaderValue::from_static("no-store"));
    response
}

struct Events<T> {
    first: Option<T>,
    rest: mpsc::Receiver<T>,
    written: fn(T) -> Bytes,
}

/// Nothing in it is pinned.
impl<T> Unpin for Events<T> {}

impl<T> HttpBody for Events<T> {
    type Data = Bytes;
    type Error = Infallible;

    fn poll_frame(
        mut self: Pin<&mut Self>,
        context: &mut Context<'_>,
    ) -> Poll<Option<Result<Frame<Bytes>, Infallible>>> {
        let next = match self.first.take() {
            Some(first) => Poll::Ready(Some(first)),
            None => self.rest.poll_recv(context),
        };
        next.map(|news| news.map(|news| Ok(Frame::data((self.written)(news)))))
    }
}
