//! Where messages go, as the configuration says.

use super::{Channels, Mail, Webhook};
use crate::rules::events::EventType;
use matchmark_store::Secret;
use std::collections::BTreeSet;
use std::sync::Arc;

/// Where holders of kits are told of notices and recalls; nowhere unless configured.
#[derive(Debug, Default)]
pub struct SendSettings {
    /// Address that notices and recalls are posted to.
    pub webhook: Option<Secret>,
    /// The secret that signs what is posted.
    pub webhook_secret: Option<Secret>,
    /// The types of events that are posted besides.
    pub events: BTreeSet<EventType>,
    /// Address of the mail server, with what signs in to it.
    pub smtp: Option<Secret>,
    /// Whom mail comes from.
    pub mail_from: Option<String>,
}

/// Why the settings will not do.
#[derive(Debug, thiserror::Error)]
pub enum SettingsError {
    /// A setting that another one needs.
    #[error("{0} is given without {1}; give both or neither")]
    Alone(&'static str, &'static str),
    /// The secret is too short to keep anyone out.
    #[error("webhook-secret: the secret of the webhook must have 16 characters or more")]
    ShortSecret,
    /// The webhook's address is none.
    #[error("webhook: the address must begin with https:// or http://")]
    Webhook,
    /// The mail server or the sender cannot be used.
    #[error("smtp, mail-from: these settings cannot send mail: {0}")]
    Mail(String),
}

impl SendSettings {
    /// The ways out.
    pub fn channels(&self) -> Result<Channels, SettingsError> {
        let webhook = match (&self.webhook, &self.webhook_secret) {
            (Some(address), Some(secret)) => {
                let (address, secret) = (address.reveal(), secret.reveal());
                if secret.len() < 16 {
                    return Err(SettingsError::ShortSecret);
                }
                if !(address.starts_with("https://") || address.starts_with("http://")) {
                    return Err(SettingsError::Webhook);
                }
                Some(Arc::new(Webhook::new(address.to_owned(), secret.as_bytes().to_vec())))
            }
            (None, None) => None,
            (Some(_), None) => return Err(SettingsError::Alone("webhook", "webhook-secret")),
            (None, Some(_)) => return Err(SettingsError::Alone("webhook-secret", "webhook")),
        };
        let mail = match (&self.smtp, &self.mail_from) {
            (Some(server), Some(from)) => {
                Some(Arc::new(Mail::new(server.reveal(), from).map_err(SettingsError::Mail)?))
            }
            (None, None) => None,
            (Some(_), None) => return Err(SettingsError::Alone("smtp", "mail-from")),
            (None, Some(_)) => return Err(SettingsError::Alone("mail-from", "smtp")),
        };
        if webhook.is_none() && !self.events.is_empty() {
            return Err(SettingsError::Alone("webhook-events", "webhook"));
        }
        Ok(Channels { webhook, mail, events: self.events.clone() })
    }
}
