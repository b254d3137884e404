//! Creating calls that may be sent again: the same key from the same token on the same route gets the same answer.

use crate::{Service, ServiceError};
use matchmark_store::hash::sha256_hex;
use matchmark_store::{Conn, idempotency};
use serde::de::{DeserializeOwned, IgnoredAny};
use serde::{Deserialize, Serialize};
use std::collections::HashMap;
use std::sync::{Arc, Mutex, PoisonError, Weak};
use tokio::sync::OwnedMutexGuard;

/// The identity of a creating call.
pub struct IdempotentCall {
    token: String,
    route: String,
    /// The caller's key and the hash of the body; without a key each call stands for itself.
    key: Option<(String, String)>,
}

/// What is recorded of a call that made something numbered.
#[derive(Debug, Deserialize, Serialize)]
pub struct Numbered {
    /// Its number.
    pub number: i64,
}

/// What is done one after the other in this process: calls with the same key, so that repeats wait for the answer instead of doing
/// the work again, and the packs of one kit.
#[derive(Default)]
pub struct InFlight(Mutex<HashMap<String, Weak<tokio::sync::Mutex<()>>>>);

impl InFlight {
    /// Whose holder has its turn at this work.
    pub fn turn(&self, call: String) -> Arc<tokio::sync::Mutex<()>> {
        let mut calls = self.0.lock().unwrap_or_else(PoisonError::into_inner);
        if let Some(turn) = calls.get(&call).and_then(Weak::upgrade) {
            return turn;
        }
        calls.retain(|_, turn| turn.strong_count() > 0);
        let turn = Arc::default();
        calls.insert(call, Arc::downgrade(&turn));
        turn
    }
}

impl Service {
    /// Whether this call was done before, or another with its key: sent again it ends nothing, so that nothing is asked first.
    pub async fn was_sent(&self, once: &IdempotentCall) -> Result<bool, ServiceError> {
        let mut read = self.store.read().await?;
        match once.was_done(&mut read).await {
            Err(ServiceError::KeyReused) => Ok(true),
            other => other,
        }
    }
}

impl IdempotentCall {
    /// A call with the caller's key, if any.
    pub fn new(token: &str, route: String, key: Option<String>, body: &[u8]) -> Self {
        Self { token: token.to_owned(), route, key: key.map(|key| (key, sha256_hex(body))) }
    }

    /// Waits until no other call with this key is being worked on here; the next goes on when what is returned is dropped.
    pub async fn turn(&self, in_flight: &InFlight) -> Option<OwnedMutexGuard<()>> {
        let (key, _) = self.key.as_ref()?;
        let turn = in_flight.turn(format!("{}\n{}\n{key}", self.token, self.route));
        Some(turn.lock_owned().await)
    }

    /// What sets this call apart from all others; empty when it has no key.
    pub fn call(&self) -> String {
        let Some((key, _)) = &self.key else { return String::new() };
        sha256_hex(format!("{}\n{}\n{key}", self.token, self.route))
    }

    /// Whether this call was done before, whatever was noted of it.
    pub async fn was_done(&self, conn: &mut Conn) -> Result<bool, ServiceError> {
        Ok(self.answered::<IgnoredAny>(conn).await?.is_some())
    }

    /// Notes that this call is done, in the transaction of its effect.
    pub async fn note(&self, conn: &mut Conn, at: &str) -> Result<(), ServiceError> {
        self.record(conn, &(), at).await
    }

    /// What was recorded of this call before.
    pub async fn answered<T: DeserializeOwned>(&self, conn: &mut Conn) -> Result<Option<T>, ServiceError> {
        let Some((key, request)) = &self.key else {
            return Ok(None);
        };
        let Some(row) = idempotency::find(conn, &self.token, &self.route, key).await? else {
            return Ok(None);
        };
        if row.request_sha256 != *request {
            return Err(ServiceError::KeyReused);
        }
        serde_json::from_str(&row.response)
            .map(Some)
            .map_err(|_| ServiceError::Inconsistent("a recorded answer cannot be read"))
    }

    /// Records what names the answer, in the transaction of its effect. A repeat reads it anew, so that it says what is so by then.
    pub async fn record<T: Serialize>(&self, conn: &mut Conn, answer: &T, at: &str) -> Result<(), ServiceError> {
        let Some((key, request)) = &self.key else {
            return Ok(());
        };
        let response =
            serde_json::to_string(answer).map_err(|_| ServiceError::Inconsistent("an answer cannot be recorded"))?;
        let row = idempotency::AnsweredRow {
            token: self.token.clone(),
            route: self.route.clone(),
            key: key.clone(),
            request_sha256: request.clone(),
            response,
            created_at: at.to_owned(),
        };
        Ok(idempotency::insert(conn, &row).await?)
    }
}
