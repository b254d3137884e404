//! What is counted and measured for those who watch over the service. No label ever holds an id, so that the number of series
//! has a bound.

mod histogram;
mod text;
use histogram::Histogram;
use matchmark_store::Pool;
use std::collections::BTreeMap;
use std::sync::atomic::{AtomicU64, Ordering};
use std::sync::{Mutex, PoisonError};
use std::time::Duration;
use text::Text;

/// Bounds of the durations of requests, s.
const REQUEST_BOUNDS: &[f64] = &[0.01, 0.05, 0.25, 1.0, 5.0];

/// Bounds of the time that drawing a pack takes, s.
const DRAWING_BOUNDS: &[f64] = &[0.05, 0.1, 0.25, 0.5, 1.0, 2.5, 5.0, 10.0];

/// The counts of this process since it started.
pub struct Metrics {
    requests: Mutex<Requests>,
    drawing: Mutex<Histogram>,
    packs_issued: AtomicU64,
    downloads: AtomicU64,
}

#[derive(Default)]
struct Requests {
    /// By method, route and status.
    counts: BTreeMap<(&'static str, String, u16), u64>,
    /// By route.
    durations: BTreeMap<String, Histogram>,
}

impl Default for Metrics {
    fn default() -> Self {
        Self {
            requests: Mutex::default(),
            drawing: Mutex::new(Histogram::new(DRAWING_BOUNDS)),
            packs_issued: AtomicU64::new(0),
            downloads: AtomicU64::new(0),
        }
    }
}

impl Metrics {
    /// A request was answered: its method, the template of its route, the status, and how long it took.
    pub fn answered(&self, method: &str, route: &str, status: u16, took: Duration) {
        let mut requests = self.requests.lock().unwrap_or_else(PoisonError::into_inner);
        *requests.counts.entry((known(method), route.to_owned(), status)).or_default() += 1;
        let durations = requests.durations.entry(route.to_owned());
        durations.or_insert_with(|| Histogram::new(REQUEST_BOUNDS)).add(took);
    }

    /// A pack was drawn in this time, not counting the wait for its turn.
    pub fn pack_drawn(&self, took: Duration) {
        self.drawing.lock().unwrap_or_else(PoisonError::into_inner).add(took);
    }

    /// A pack was issued.
    pub fn pack_issued(&self) {
        self.packs_issued.fetch_add(1, Ordering::Relaxed);
    }

    /// A pack was fetched.
    pub fn pack_fetched(&self) {
        self.downloads.fetch_add(1, Ordering::Relaxed);
    }

    /// All of it in the text format of Prometheus, version 0.0.4.
    pub fn text(&self, pools: &[Pool]) -> String {
        let mut text = Text::default();
        {
            let requests = self.requests.lock().unwrap_or_else(PoisonError::into_inner);
            let name = "matchmark_http_requests_total";
            text.heading(name, "counter", "Requests answered, by method, route and status.");
            for ((method, route, status), count) in &requests.counts {
                let status = status.to_string();
                text.line(name, &[("method", method), ("route", route), ("status", &status)], *count);
            }
            let name = "matchmark_http_request_seconds";
            text.heading(name, "histogram", "Time from a request's head to its answer's head.");
            for (route, durations) in &requests.durations {
                text.histogram(name, &[("route", route)], durations);
            }
        }
        let name = "matchmark_pack_drawing_seconds";
        text.heading(name, "histogram", "Time that drawing a pack took, without the wait for its turn.");
        text.histogram(name, &[], &self.drawing.lock().unwrap_or_else(PoisonError::into_inner));
        let counts = [
            ("matchmark_packs_issued_total", "Packs issued.", &self.packs_issued),
            ("matchmark_pack_downloads_total", "Packs fetched.", &self.downloads),
        ];
        for (name, about, count) in counts {
            text.heading(name, "counter", about);
            text.line(name, &[], count.load(Ordering::Relaxed));
        }
        let name = "matchmark_database_connections";
        text.heading(name, "gauge", "Open connections to the database.");
        for pool in pools {
            text.line(name, &[("purpose", pool.purpose), ("state", "idle")], pool.idle);
            text.line(name, &[("purpose", pool.purpose), ("state", "busy")], pool.open.saturating_sub(pool.idle));
        }
        text.finish()
    }
}

/// The method as a label: one of few, whatever a caller makes up.
fn known(method: &str) -> &'static str {
    let methods = ["GET", "HEAD", "POST", "PUT", "PATCH", "DELETE", "OPTIONS"];
    methods.into_iter().find(|known| *known == method).unwrap_or("other")
}
