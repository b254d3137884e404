//! How many requests a caller may send: each kit and each token of the supplier's people has an allowance of its own once it has
//! proven good, all else that comes from an address shares one. Each process counts for itself.

use crate::config::Callers;
use crate::http::caller::bearer;
use crate::http::problem::Problem;
use crate::http::problem_kinds as kinds;
use crate::http::session::shown_session;
use crate::listen::{FromOurs, Peer};
use crate::words::of_request;
use axum::extract::{Request, State};
use axum::http::{HeaderMap, HeaderName, HeaderValue, StatusCode, header};
use axum::middleware::Next;
use axum::response::{IntoResponse, Response};
use governor::clock::{Clock, DefaultClock};
use governor::middleware::StateInformationMiddleware;
use governor::state::keyed::HashMapStateStore;
use governor::{Quota, RateLimiter};
use matchmark_service::request_identity::{Party, RequestIdentity};
use matchmark_store::hash::sha256_hex;
use std::collections::HashMap;
use std::num::NonZeroU32;
use std::sync::{Arc, Mutex, PoisonError};
use std::time::Duration;

const WINDOW: Duration = Duration::from_secs(60);

/// When so many callers are known, those who have all of their allowance again are forgotten; when so many tokens are, all are,
/// and prove themselves anew.
const MANY: usize = 10_000;

const RATE_LIMIT: HeaderName = HeaderName::from_static("ratelimit");
const RATE_LIMIT_POLICY: HeaderName = HeaderName::from_static("ratelimit-policy");

/// The allowances of all callers.
#[derive(Clone)]
pub struct Limits(Arc<Allowances<DefaultClock>>);

struct Allowances<C: Clock> {
    proven: Allowance<C>,
    addresses: Allowance<C>,
    /// Whose a token is that has proven good, by its hash.
    known: Mutex<HashMap<String, Party>>,
    clock: C,
}

type Limiter<C> = RateLimiter<Party, HashMapStateStore<Party>, C, StateInformationMiddleware>;

struct Allowance<C: Clock> {
    most: NonZeroU32,
    limiter: Limiter<C>,
}

/// What a caller has left.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
struct Left {
    most: u32,
    left: u32,
    /// Seconds until all of it is there again; where it is refused, until it would not be.
    seconds: u64,
    refused: bool,
}

impl Limits {
    /// So many requests a minute as these say.
    pub fn new(callers: &Callers) -> Self {
        Self(Arc::new(Allowances::new(callers, DefaultClock::default())))
    }
}

impl<C: Clock + Clone> Allowances<C> {
    fn new(callers: &Callers, clock: C) -> Self {
        let allowance = |most: NonZeroU32| {
            let limiter = RateLimiter::hashmap_with_clock(Quota::per_minute(most), clock.clone());
            Allowance { most, limiter: limiter.with_middleware() }
        };
        Self {
            proven: allowance(callers.requests_per_token),
            addresses: allowance(callers.requests_per_address),
            known: Mutex::default(),
            clock: clock.clone(),
        }
    }

    /// Counts one more request.
    fn count(&self, caller: &Party) -> Left {
        let Allowance { most, limiter } = match caller {
            Party::Kit(_) | Party::Token(_) => &self.proven,
            Party::House | Party::Address(_) => &self.addresses,
        };
        if limiter.len() >= MANY {
            limiter.retain_recent();
        }
        let most = most.get();
        match limiter.check_key(caller) {
            Ok(state) => {
                let left = state.remaining_burst_capacity();
                let used = f64::from(most.saturating_sub(left)) / f64::from(most);
                let seconds = WINDOW.mul_f64(used).as_secs() + 1;
                Left { most, left, seconds: seconds.min(WINDOW.as_secs()), refused: false }
            }
            Err(until) => {
                let seconds = until.wait_time_from(self.clock.now()).as_secs() + 1;
                Left { most, left: 0, seconds, refused: true }
            }
        }
    }

    /// Whose this token is, when it has proven good before.
    fn owner(&self, token: &str) -> Option<Party> {
        self.known.lock().unwrap_or_else(PoisonError::into_inner).get(token).cloned()
    }

    fn learn(&self, token: String, owner: Party) {
        let mut known = self.known.lock().unwrap_or_else(PoisonError::into_inner);
        if known.len() >= MANY {
            known.clear();
        }
        known.insert(token, owner);
    }

    fn unlearn(&self, token: &str) {
        self.known.lock().unwrap_or_else(PoisonError::into_inner).remove(token);
    }
}

/// Turns a caller away who asks too often. What a machine of the operator's asks for itself about the service's health is not counted.
pub async fn limit(State(Limits(limits)): State<Limits>, mut request: Request, next: Next) -> Response {
    let address = request.extensions().get::<Peer>().map(|Peer(address)| address.ip());
    let asking = RequestIdentity::from_address(address);
    let is_probe = ["/healthz", "/readyz"].contains(&request.uri().path());
    if is_probe && request.extensions().get::<FromOurs>().is_some() {
        return asking.within(next.run(request)).await;
    }
    let token = of_token(request.headers());
    let owner = token.as_ref().and_then(|token| limits.owner(token));
    request.extensions_mut().insert(asking.clone());
    let left = limits.count(owner.as_ref().unwrap_or(asking.address()));
    let mut response = if left.refused {
        let detail = of_request().requests.too_many(left.most, left.seconds);
        Problem::new(&kinds::TOO_MANY_REQUESTS, detail).retry_after(left.seconds).into_response()
    } else {
        asking.clone().within(next.run(request)).await
    };
    match (token, owner, asking.proven()) {
        (Some(token), None, Some(proven)) => {
            limits.count(proven);
            limits.learn(token, proven.clone());
        }
        (Some(token), Some(_), _) if response.status() == StatusCode::UNAUTHORIZED => {
            limits.unlearn(&token);
            limits.count(asking.address());
        }
        _ => {}
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

/// The hash of the token or of the browser's session that a request shows, however its header is written.
fn of_token(headers: &HeaderMap) -> Option<String> {
    let header = headers.get(header::AUTHORIZATION);
    let token = header.and_then(|value| bearer(value.to_str().ok()?));
    token.or_else(|| shown_session(headers)).map(sha256_hex)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::config::Sources;
    use governor::clock::FakeRelativeClock;
    use std::net::IpAddr;

    fn allowances(clock: &FakeRelativeClock) -> Allowances<FakeRelativeClock> {
        let [requests_per_token, requests_per_address] = [3, 2].map(|most| NonZeroU32::new(most).unwrap());
        let usual = Callers::from_sources(&Sources::defaults().unwrap()).unwrap();
        Allowances::new(&Callers { requests_per_token, requests_per_address, ..usual }, clock.clone())
    }

    fn address(text: &str) -> Party {
        RequestIdentity::from_address(Some(text.parse::<IpAddr>().unwrap())).address().clone()
    }

    #[test]
    fn an_allowance_is_used_up_and_comes_back() {
        let clock = FakeRelativeClock::default();
        let limits = allowances(&clock);
        let one = address("192.0.2.1");
        for left in [1, 0] {
            let told = limits.count(&one);
            assert_eq!((told.left, told.refused), (left, false));
        }
        let told = limits.count(&one);
        assert!(told.refused);
        assert!(!limits.count(&address("192.0.2.2")).refused, "others have their own");
        assert_eq!(limits.count(&Party::Kit("K-1".to_owned())).most, 3);
        // What is told to wait is enough.
        clock.advance(Duration::from_secs(told.seconds));
        assert!(!limits.count(&one).refused);
        assert!(limits.count(&one).refused);
    }

    #[test]
    fn a_token_is_one_caller_however_its_header_is_written() {
        let shown = |name: HeaderName, value: &'static str| {
            of_token(&HeaderMap::from_iter([(name, HeaderValue::from_static(value))]))
        };
        let plain = shown(header::AUTHORIZATION, "Bearer mmp_one");
        assert!(plain.is_some());
        for value in ["bearer mmp_one", "BEARER mmp_one", "Bearer   mmp_one", "Bearer mmp_one  "] {
            assert_eq!(shown(header::AUTHORIZATION, value), plain, "{value:?}");
        }
        assert_ne!(shown(header::AUTHORIZATION, "Bearer mmp_two"), plain);
        assert_eq!(shown(header::AUTHORIZATION, "Basic mmp_one"), None);
        let session = shown(header::COOKIE, "matchmark=one");
        assert!(session.is_some());
        assert_eq!(shown(header::COOKIE, "other=1; matchmark=one; more=2"), session);
        assert_eq!(shown(header::COOKIE, "other=one"), None);
    }
}
