//! A webhook: the message as JSON, posted and signed. The signature is HMAC-SHA256 over id, timestamp and body with full stops
//! between them, so that a receiver can refuse what is forged, changed or old.

use super::{Message, NotSent, NotSentCause};
use data_encoding::BASE64;
use hmac::{Hmac, KeyInit, Mac};
use sha2::Sha256;
use std::time::Duration;
use ureq::Agent;

const WITHIN: Duration = Duration::from_secs(15);

/// Where messages are posted.
pub struct Webhook {
    address: String,
    secret: Vec<u8>,
    agent: Agent,
}

impl std::fmt::Debug for Webhook {
    fn fmt(&self, formatter: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        formatter.debug_struct("Webhook").field("address", &self.address).finish_non_exhaustive()
    }
}

impl Webhook {
    /// One at this address. No redirect is followed: what is signed for one place is not sent to another.
    pub fn new(address: String, secret: Vec<u8>) -> Self {
        let config = Agent::config_builder().timeout_global(Some(WITHIN)).max_redirects(0).http_status_as_error(false);
        Self { address, secret, agent: config.build().into() }
    }

    /// Posts a message; any status of 2xx says that it was taken.
    pub fn send(&self, message: &Message) -> Result<(), NotSent> {
        let not_sent = |cause: NotSentCause| NotSent { cause, for_good: false };
        let signature = self.signature(message).ok_or_else(|| not_sent(NotSentCause::NotSigned))?;
        let answer = self
            .agent
            .post(&self.address)
            .header("content-type", "application/json")
            .header("user-agent", concat!("matchmark/", env!("CARGO_PKG_VERSION")))
            .header("webhook-id", &message.id)
            .header("webhook-timestamp", message.timestamp.to_string())
            .header("webhook-signature", signature)
            .send(&message.json)
            .map_err(|error| not_sent(NotSentCause::WebhookAway { why: error.to_string() }))?;
        match answer.status() {
            status if status.is_success() => Ok(()),
            status => Err(not_sent(NotSentCause::WebhookAnswered { status: status.as_u16() })),
        }
    }

    fn signature(&self, message: &Message) -> Option<String> {
        let mut mac = Hmac::<Sha256>::new_from_slice(&self.secret).ok()?;
        mac.update(format!("{}.{}.{}", message.id, message.timestamp, message.json).as_bytes());
        Some(format!("v1,{}", BASE64.encode(&mac.finalize().into_bytes())))
    }
}
