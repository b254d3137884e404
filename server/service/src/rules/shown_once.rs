//! Secrets that the answer to a call shows, and the answer to its repeat again: made from the key of the service and what is recorded
//! of the call, so that nothing is kept that tells one.

use crate::{IdempotentCall, Service};
use data_encoding::HEXLOWER;
use matchmark_core::seal::SealKey;
use matchmark_store::secret::{self, Maker};
use serde::{Deserialize, Serialize};

/// What is recorded of a call that made a secret.
#[derive(Debug, Deserialize, Serialize)]
pub(crate) struct Made {
    /// What the secret is of, such as the id of a token.
    pub id: String,
    /// Random; what is made of it is no secret to whoever has the key of the service, and to nobody else.
    nonce: String,
}

impl Made {
    /// Of a call that makes a secret now.
    pub(crate) fn now(id: String) -> Self {
        Self { id, nonce: HEXLOWER.encode(&secret::key()) }
    }
}

/// What makes secrets of the key that signs pages.
pub(crate) fn maker(key: &SealKey) -> Maker {
    Maker::of(&key.secret_hex())
}

impl Service {
    /// The secret that a call made. It takes the key of the caller too, so that what is recorded and the key of the service do not tell
    /// it once the call is forgotten.
    pub(crate) fn made_secret(&self, once: &IdempotentCall, made: &Made) -> [u8; 32] {
        self.maker.secret(&format!("{}\n{}\n{}", made.id, made.nonce, once.call()))
    }
}
