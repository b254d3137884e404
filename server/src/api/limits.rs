//! How many requests a caller may send: each token that has proven good has an allowance of its own, all else that comes from an
//! address shares one. Each process counts for itself.

use super::problem::Problem;
use super::problem_kinds as kinds;
use crate::hash::sha256_hex;
use crate::listen::Peer;
use axum::extract::{Request, State};
use axum::http::{Extensions, HeaderMap, HeaderName, HeaderValue, StatusCode, header};
use axum::middleware::Next;
use axum::response::{IntoResponse, Response};
use std::collections::HashMap;
use std::net::IpAddr;
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::{Arc, Mutex, PoisonError};
use std::time::{Duration, Instant};

const WINDOW: Duration = Duration::from_secs(60);

/// Requests of a good token within the window.
const MOST_OF_TOKEN: u32 = 6000;

/// Requests from an address without a good token within the window.
const MOST_OF_ADDRESS: u32 = 600;

/// When so many callers are known, those whose window is over are forgotten.
const MANY: usize = 10_000;

const RATE_LIMIT: HeaderName = HeaderName::from_static("ratelimit");
const RATE_LIMIT_POLICY: HeaderName = HeaderName::from_static("ratelimit-policy");

/// The counts of all callers.
#[derive(Debug, Clone, Default)]
pub struct Limits(Arc<Mutex<HashMap<String, Count>>>);

#[derive(Debug, Clone, Copy)]
struct Count {
    since: Instant,
    used: u32,
}

/// Goes with a request, to come back with word of whether its token or cookie is good.
#[derive(Debug, Clone, Default)]
pub struct Proof(Arc<AtomicBool>);

impl Proof {
    /// Whoever looked it up says that it is good.
    pub fn give(extensions: &Extensions) {
        if let Some(Self(proof)) = extensions.get() {
            proof.store(true, Ordering::Relaxed);
        }
    }
}

/// What a caller has left.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
struct Left {
    most: u32,
    left: u32,
    /// Seconds until all of it is there again.
    seconds: u64,
    refused: bool,
}

impl Limits {
    /// Counts one more request.
    fn count(&self, caller: &str, most: u32, now: Instant) -> Left {
        let mut counts = self.0.lock().unwrap_or_else(PoisonError::into_inner);
        if counts.len() >= MANY {
            counts.retain(|_, count| now.duration_since(count.since) < WINDOW);
        }
        let count = counts.entry(caller.to_owned()).or_insert(Count { since: now, used: 0 });
        if now.duration_since(count.since) >= WINDOW {
            *count = Count { since: now, used: 0 };
        }
        let refused = count.used >= most;
        count.used = count.used.saturating_add(1);
        let rest = WINDOW.saturating_sub(now.duration_since(count.since));
        Left { most, left: most.saturating_sub(count.used), seconds: rest.as_secs() + 1, refused }
    }

    /// Whether a caller was counted before.
    fn knows(&self, caller: &str) -> bool {
        self.0.lock().unwrap_or_else(PoisonError::into_inner).contains_key(caller)
    }
}

/// Turns a caller away who asks too often. Probes of a supervisor are not counted.
pub async fn limit(State(limits): State<Limits>, mut request: Request, next: Next) -> Response {
    if ["/healthz", "/readyz"].contains(&request.uri().path()) {
        return next.run(request).await;
    }
    let now = Instant::now();
    let address = of_address(request.extensions().get::<Peer>().map(|Peer(address)| address.ip()));
    let token = of_token(request.headers());
    let proven = token.as_ref().is_some_and(|token| limits.knows(token));
    let proof = Proof::default();
    request.extensions_mut().insert(proof.clone());
    let left = match &token {
        Some(token) if proven => limits.count(token, MOST_OF_TOKEN, now),
        _ => limits.count(&address, MOST_OF_ADDRESS, now),
    };
    let mut response = if left.refused {
        let detail = format!("More than {} requests came within a minute. Wait {} seconds.", left.most, left.seconds);
        Problem::new(&kinds::TOO_MANY_REQUESTS, detail).retry_after(left.seconds).into_response()
    } else {
        next.run(request).await
    };
    if let (Some(token), false, true) = (&token, proven, proof.0.load(Ordering::Relaxed)) {
        limits.count(token, MOST_OF_TOKEN, now);
    }
    if proven && response.status() == StatusCode::UNAUTHORIZED {
        limits.count(&address, MOST_OF_ADDRESS, now);
    }
    let headers = response.headers_mut();
    for (name, value) in [
        (RATE_LIMIT_POLICY, format!("\"default\";q={};w={}", left.most, WINDOW.as_secs())),
        (RATE_LIMIT, format!("\"default\";r={};t={}", left.left, left.seconds)),
    ] {
        if let Ok(value) = HeaderValue::from_str(&value) {
            headers.insert(name, value);
        }
    }
    response
}

fn of_address(address: Option<IpAddr>) -> String {
    // Whoever has one address of a network of IPv6 has all of its last 64 bits.
    match address {
        Some(IpAddr::V6(address)) if address.to_ipv4_mapped().is_none() => {
            let [a, b, c, d, ..] = address.segments();
            format!("address {a:x}:{b:x}:{c:x}:{d:x}")
        }
        Some(address) => format!("address {address}"),
        None => "address unknown".to_owned(),
    }
}

/// Whoever shows the same token or cookie is the same caller.
fn of_token(headers: &HeaderMap) -> Option<String> {
    let shown = headers.get(header::AUTHORIZATION).or_else(|| headers.get(header::COOKIE))?;
    Some(format!("token {}", sha256_hex(shown.as_bytes())))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_allowance_is_used_up_and_comes_back_with_the_next_window() {
        let (limits, begun) = (Limits::default(), Instant::now());
        for left in [1, 0] {
            let told = limits.count("a", 2, begun);
            assert_eq!((told.left, told.refused), (left, false));
        }
        let soon = begun + Duration::from_secs(59);
        assert!(limits.count("a", 2, soon).refused);
        assert!(!limits.count("b", 2, soon).refused, "others have their own");
        // What is told to wait is enough.
        let told = limits.count("a", 2, soon);
        assert!(!limits.count("a", 2, soon + Duration::from_secs(told.seconds)).refused);
    }

    #[test]
    fn a_network_of_ipv6_counts_as_one_address() {
        let of = |text: &str| of_address(Some(text.parse().unwrap()));
        assert_eq!(of("2001:db8:1:2::1"), of("2001:db8:1:2:ffff::9"));
        assert_ne!(of("2001:db8:1:2::1"), of("2001:db8:1:3::1"));
        assert_ne!(of("192.0.2.1"), of("192.0.2.2"));
    }
}
