//! The ways out: a webhook and electronic mail. Both block, both are off unless configured; what is sent, and when, is decided in
//! `service`.

mod mail;
mod settings;
mod webhook;

pub use mail::Mail;
pub use settings::{SendSettings, SettingsError};
use std::sync::Arc;
pub use webhook::Webhook;

/// What is to be sent.
#[derive(Debug, Clone)]
pub struct Message {
    /// The same however often it is tried, so that a receiver can tell.
    pub id: String,
    /// Seconds since 1970.
    pub timestamp: i64,
    /// A line that says what it is about.
    pub subject: String,
    /// The same for people, as plain text.
    pub text: String,
    /// The same for programs, as JSON.
    pub json: String,
}

/// Why a message was not taken.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct NotSent {
    /// The cause, without any secret.
    pub cause: String,
    /// True when trying again cannot help.
    pub for_good: bool,
}

/// The ways out that are configured.
#[derive(Debug, Clone, Default)]
pub struct Channels {
    /// Where programs are told.
    pub webhook: Option<Arc<Webhook>>,
    /// How people are told.
    pub mail: Option<Arc<Mail>>,
}

impl Channels {
    /// Their names as they are kept.
    pub fn names(&self) -> Vec<&'static str> {
        let webhook = self.webhook.as_ref().map(|_| WEBHOOK);
        webhook.into_iter().chain(self.mail.as_ref().map(|_| MAIL)).collect()
    }
}

/// The webhook's name.
pub const WEBHOOK: &str = "webhook";
/// The mail's name.
pub const MAIL: &str = "mail";
