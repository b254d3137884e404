//! A stock plan as server-sent events (WHATWG HTML, section 9.2): `progress` now and then, then `plan` or `problem`.

use crate::http::event_stream::event_stream;
use axum::body::Bytes;
use axum::response::Response;
use matchmark_core::stock::Progress;
use matchmark_service::engine::StockNews;
use serde::Serialize;
use serde_json::json;
use tokio::sync::mpsc;

#[derive(Serialize)]
struct ProgressEvent {
    seconds: f64,
    #[serde(flatten)]
    progress: Progress,
}

/// The answer that hands on what comes, the first of it given.
pub fn events(first: StockNews, rest: mpsc::Receiver<StockNews>) -> Response {
    event_stream(Some(first), rest, event)
}

fn event(news: StockNews) -> Bytes {
    let (name, data) = match news {
        StockNews::Progress(elapsed, progress) => {
            let seconds = (elapsed.as_secs_f64() * 1e3).round() / 1e3;
            ("progress", serde_json::to_string(&ProgressEvent { seconds, progress }))
        }
        StockNews::Done(Ok(plan)) => ("plan", serde_json::to_string(&plan)),
        StockNews::Done(Err(error)) => {
            let problem = json!({"code": error.code(), "pointer": error.pointer(), "detail": error.to_string()});
            ("problem", Ok(problem.to_string()))
        }
    };
    // JSON of numbers and strings has no line ends, and nothing in it that cannot be written.
    format!("event: {name}\ndata: {}\n\n", data.unwrap_or_default()).into()
}
