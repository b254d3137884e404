//! A pack job as server-sent events (WHATWG HTML, section 9.2). What is told comes from the database, so that it does not matter
//! which process works on the job.

use crate::http::App;
use crate::http::event_stream::event_stream;
use axum::body::Bytes;
use axum::response::Response;
use matchmark_service::Principal;
use std::time::Duration;
use tokio::sync::mpsc;
use tokio::time::Instant;

/// How often to look.
const LOOK_EVERY: Duration = Duration::from_millis(300);

/// Something is sent at least so often, so that nobody on the way takes the connection for dead.
const SIGN_OF_LIFE: Duration = Duration::from_secs(15);

/// The answer that tells the results of a job after this place as they come.
pub fn events(app: App, who: Principal, job: i64, after: i64) -> Response {
    let (sender, receiver) = mpsc::channel(16);
    tokio::spawn(tell(app, who, job, after, sender));
    event_stream(None, receiver, |event| event)
}

/// Ends with the job, with the service, or when nobody listens any more.
async fn tell(app: App, who: Principal, job: i64, mut after: i64, sender: mpsc::Sender<Bytes>) {
    let mut told = Instant::now();
    if sender.send("retry: 2000\n\n".into()).await.is_err() {
        return;
    }
    loop {
        let (view, kits) = match app.pack_job_results(&who, job, after).await {
            Ok(found) => found,
            Err(error) => {
                // The client asks again from where it was.
                tracing::warn!(%error, job, "a watched job cannot be read");
                return;
            }
        };
        let all = kits.len() < 200;
        for kit in kits {
            after = kit.place.unwrap_or(after);
            let data = serde_json::to_string(&kit).unwrap_or_default();
            if sender.send(format!("id: {after}\nevent: kit\ndata: {data}\n\n").into()).await.is_err() {
                return;
            }
            told = Instant::now();
        }
        if all && view.state.is_over() {
            let data = serde_json::to_string(&view).unwrap_or_default();
            let _ = sender.send(format!("event: end\ndata: {data}\n\n").into()).await;
            return;
        }
        if told.elapsed() >= SIGN_OF_LIFE {
            if sender.send(": still at work\n\n".into()).await.is_err() {
                return;
            }
            told = Instant::now();
        }
        tokio::select! {
            () = tokio::time::sleep(LOOK_EVERY) => {}
            () = app.stopped() => return,
            () = sender.closed() => return,
        }
    }
}
