//! The ways out: a webhook and electronic mail. Both block, both are off unless configured; what is sent, and when, is decided in
//! `service`.

mod mail;
mod settings;
mod webhook;

pub use mail::Mail;
pub use settings::{SendSettings, SettingsError};
pub use webhook::Webhook;

use crate::rules::events::EventType;
use crate::words::Words;
use serde::{Deserialize, Serialize};
use std::collections::BTreeSet;
use std::sync::Arc;

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

/// What stood in a message's way, without any secret, as it is kept.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(tag = "cause", rename_all = "kebab-case")]
pub enum NotSentCause {
    /// No mail server is configured any more.
    NoMailServer,
    /// No webhook is configured any more.
    NoWebhook,
    /// The customer was erased, and the address with them.
    CustomerErased,
    /// Nothing can be sent to the address.
    BadAddress,
    /// The mail cannot be written.
    NotWritten,
    /// The mail server refused it. What it says may repeat the address; its code does not.
    MailAnswered {
        /// Its reply code.
        code: String,
    },
    /// The mail server was out of reach.
    MailAway,
    /// The message cannot be signed.
    NotSigned,
    /// The receiver refused it.
    WebhookAnswered {
        /// Status of its answer.
        status: u16,
    },
    /// The receiver was out of reach.
    WebhookAway {
        /// What the network layer says.
        why: String,
    },
}

impl NotSentCause {
    /// As it is kept.
    pub fn kept(&self) -> String {
        serde_json::to_string(self).unwrap_or_default()
    }

    /// What is said of it.
    fn said(&self, words: &Words) -> String {
        let says = &words.sending;
        match self {
            Self::NoMailServer => says.no_mail_server().to_owned(),
            Self::NoWebhook => says.no_webhook().to_owned(),
            Self::CustomerErased => says.customer_erased().to_owned(),
            Self::BadAddress => says.bad_address().to_owned(),
            Self::NotWritten => says.not_written().to_owned(),
            Self::MailAnswered { code } => says.mail_answered(code),
            Self::MailAway => says.mail_away().to_owned(),
            Self::NotSigned => says.not_signed().to_owned(),
            Self::WebhookAnswered { status } => says.webhook_answered(*status),
            Self::WebhookAway { why } => says.webhook_away(why),
        }
    }
}

/// What is said of a cause that was kept. Earlier versions kept the sentence.
pub fn cause_said(words: &Words, kept: String) -> String {
    serde_json::from_str(&kept).map_or(kept, |cause: NotSentCause| cause.said(words))
}

/// Why a message was not taken.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct NotSent {
    /// The cause.
    pub cause: NotSentCause,
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
    /// The types of events that the webhook is told of besides notices and recalls.
    pub events: BTreeSet<EventType>,
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::words::EN;

    #[test]
    fn what_is_kept_is_a_fact_and_an_earlier_sentence_stays() {
        let cause = NotSentCause::MailAnswered { code: "550".to_owned() };
        assert_eq!(cause.kept(), r#"{"cause":"mail-answered","code":"550"}"#);
        assert_eq!(cause_said(&EN, cause.kept()), "the mail server answered 550");
        for earlier in ["the customer was erased", ""] {
            assert_eq!(cause_said(&EN, earlier.to_owned()), earlier);
        }
    }
}
