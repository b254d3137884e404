//! A stock plan as server-sent events (WHATWG HTML, section 9.2): `progress` now and then, then `plan` or `problem`.

use axum::body::{Body, Bytes, HttpBody};
use axum::http::{HeaderValue, header};
use axum::response::Response;
use hyper::body::Frame;
use matchmark_core::stock::Progress;
use matchmark_service::engine::StockNews;
use serde::Serialize;
use serde_json::json;
use std::convert::Infallible;
use std::pin::Pin;
use std::task::{Context, Poll};
use tokio::sync::mpsc;

#[derive(Serialize)]
struct ProgressEvent {
    seconds: f64,
    #[serde(flatten)]
    progress: Progress,
}

/// The answer that hands on what comes, the first of it given.
pub fn events(first: &StockNews, rest: mpsc::Receiver<StockNews>) -> Response {
    let mut response = Response::new(Body::new(Events { first: Some(event(first)), rest }));
    response.headers_mut().insert(header::CONTENT_TYPE, HeaderValue::from_static("text/event-stream"));
    response.headers_mut().insert(header::CACHE_CONTROL, HeaderValue::from_static("no-store"));
    response
}

fn event(news: &StockNews) -> Bytes {
    let (name, data) = match news {
        StockNews::Progress(elapsed, progress) => {
            let seconds = (elapsed.as_secs_f64() * 1e3).round() / 1e3;
            ("progress", serde_json::to_string(&ProgressEvent { seconds, progress: *progress }))
        }
        StockNews::Done(Ok(plan)) => ("plan", serde_json::to_string(plan)),
        StockNews::Done(Err(error)) => {
            let problem = json!({"code": error.code(), "pointer": error.pointer(), "detail": error.to_string()});
            ("problem", Ok(problem.to_string()))
        }
    };
    // JSON of numbers and strings has no line ends, and nothing in it that cannot be written.
    format!("event: {name}\ndata: {}\n\n", data.unwrap_or_default()).into()
}

struct Events {
    first: Option<Bytes>,
    rest: mpsc::Receiver<StockNews>,
}

impl HttpBody for Events {
    type Data = Bytes;
    type Error = Infallible;

    fn poll_frame(
        mut self: Pin<&mut Self>,
        context: &mut Context<'_>,
    ) -> Poll<Option<Result<Frame<Bytes>, Infallible>>> {
        if let Some(first) = self.first.take() {
            return Poll::Ready(Some(Ok(Frame::data(first))));
        }
        self.rest.poll_recv(context).map(|news| news.map(|news| Ok(Frame::data(event(&news)))))
    }
}
