//! What is counted and measured for those who watch over the service. No label ever holds an id, so that the number of series
//! has a bound.

mod pools;

use matchmark_store::Pool;
use pools::Pools;
use prometheus_client::encoding::text::{encode, encode_registry};
use prometheus_client::metrics::counter::Counter;
use prometheus_client::metrics::family::Family;
use prometheus_client::metrics::histogram::Histogram;
use prometheus_client::registry::Registry;
use std::time::Duration;

/// Bounds of the durations of requests, s.
const REQUEST_BOUNDS: [f64; 5] = [0.01, 0.05, 0.25, 1.0, 5.0];

/// Bounds of the time that drawing a pack takes, s.
const DRAWING_BOUNDS: [f64; 8] = [0.05, 0.1, 0.25, 0.5, 1.0, 2.5, 5.0, 10.0];

/// A label with its value.
type Label<T = String> = (&'static str, T);

/// The counts of this process since it started.
pub struct Metrics {
    registry: Registry,
    /// By method, route and status.
    requests: Family<[Label; 3], Counter>,
    /// By route.
    durations: Family<[Label; 1], Histogram, fn() -> Histogram>,
    drawing: Histogram,
    packs_issued: Counter,
    downloads: Counter,
}

impl Default for Metrics {
    fn default() -> Self {
        let mut registry = Registry::with_prefix("matchmark");
        let requests = Family::default();
        registry.register("http_requests", "Requests answered, by method, route and status", requests.clone());
        let durations: Family<_, _, fn() -> Histogram> =
            Family::new_with_constructor(|| Histogram::new(REQUEST_BOUNDS));
        let about = "Time from a request's head to its answer's head";
        registry.register("http_request_seconds", about, durations.clone());
        let drawing = Histogram::new(DRAWING_BOUNDS);
        let about = "Time that drawing a pack took, without the wait for its turn";
        registry.register("pack_drawing_seconds", about, drawing.clone());
        let packs_issued = Counter::default();
        registry.register("packs_issued", "Packs issued", packs_issued.clone());
        let downloads = Counter::default();
        registry.register("pack_downloads", "Packs fetched", downloads.clone());
        Self { registry, requests, durations, drawing, packs_issued, downloads }
    }
}

impl Metrics {
    /// A request was answered: its method, the template of its route, the status, and how long it took.
    pub fn answered(&self, method: &str, route: &str, status: u16, took: Duration) {
        let labels =
            [("method", known(method).to_owned()), ("route", route.to_owned()), ("status", status.to_string())];
        self.requests.get_or_create(&labels).inc();
        self.durations.get_or_create(&[("route", route.to_owned())]).observe(took.as_secs_f64());
    }

    /// A pack was drawn in this time, not counting the wait for its turn.
    pub fn pack_drawn(&self, took: Duration) {
        self.drawing.observe(took.as_secs_f64());
    }

    /// A pack was issued.
    pub fn pack_issued(&self) {
        self.packs_issued.inc();
    }

    /// A pack was fetched.
    pub fn pack_fetched(&self) {
        self.downloads.inc();
    }

    /// All of it in the text format of OpenMetrics, version 1.0.
    pub fn text(&self, pools: &[Pool]) -> String {
        let mut text = String::new();
        let mut now = Registry::with_prefix("matchmark");
        now.register_collector(Box::new(Pools(pools.to_vec())));
        // Writing to a string does not fail.
        let _ = encode_registry(&mut text, &self.registry);
        let _ = encode(&mut text, &now);
        text
    }
}

/// The method as a label: one of few, whatever a caller makes up.
fn known(method: &str) -> &'static str {
    let methods = ["GET", "HEAD", "POST", "PUT", "PATCH", "DELETE", "OPTIONS"];
    methods.into_iter().find(|known| *known == method).unwrap_or("other")
}
