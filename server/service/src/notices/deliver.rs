//! Sends what is due. A delivery is taken by putting off when it is due, in a transaction of its own: nobody else sends it meanwhile,
//! and when this process dies it comes up again.

use crate::notices::message::{self, HolderMessage, HolderMessageType};
use crate::rules::contact::contact_text;
use crate::rules::events::EventType;
use crate::rules::outbox::{DeliveryState, ToHolder};
use crate::rules::publication::ChangeClass;
use crate::send::{MAIL, Message, NotSent, NotSentCause};
use crate::{Service, ServiceError};
use matchmark_store::deliveries::{self, DeliveryRow};
use matchmark_store::kits;
use std::sync::Arc;
use std::time::Duration as StdDuration;
use time::Duration;

/// A delivery is nobody else's for so long; sending gives up before.
const TAKEN: Duration = Duration::seconds(60);

/// How often to look when nothing is due.
const LOOK_EVERY: StdDuration = StdDuration::from_secs(2);

/// After so many attempts it is given up.
const MOST_ATTEMPTS: i64 = 9;

/// How long to wait after so many failed attempts: half a minute, then four times as long each time, six hours at most.
fn wait(attempts: i64) -> Duration {
    let exponent = u32::try_from(attempts.clamp(1, 8)).unwrap_or(1) - 1;
    Duration::seconds(30 * 4_i64.pow(exponent)).min(Duration::hours(6))
}

impl Service {
    /// Sends deliveries until told to stop. Without any channel there is nothing to do.
    pub async fn deliver(self: Arc<Self>) {
        if self.channels.names().is_empty() {
            return;
        }
        let mut stopping = self.stopping.subscribe();
        while !*stopping.borrow() {
            match self.deliver_one().await {
                Ok(true) => continue,
                Ok(false) => {}
                Err(error) => {
                    self.note(&error);
                    tracing::error!(%error, "a delivery has stopped and will be resumed");
                }
            }
            tokio::select! {
                () = self.delivery_news.notified() => {}
                () = tokio::time::sleep(LOOK_EVERY) => {}
                _ = stopping.changed() => {}
            }
        }
    }

    /// Sends the delivery that is due longest; false when none is.
    async fn deliver_one(&self) -> Result<bool, ServiceError> {
        let Some(row) = self.take_delivery().await? else {
            return Ok(false);
        };
        let sent = self.send(&row).await?;
        self.record_delivery(row, sent).await?;
        Ok(true)
    }

    async fn take_delivery(&self) -> Result<Option<DeliveryRow>, ServiceError> {
        let now = self.clock.stamp();
        {
            // Most often there is none, which is no reason to keep others from writing.
            let mut read = self.store.read().await?;
            if deliveries::due(&mut read, now.at()).await?.is_none() {
                return Ok(None);
            }
        }
        let mut write = self.store.write().await?;
        let Some(mut row) = deliveries::due(&mut write, now.at()).await? else {
            return Ok(None);
        };
        row.attempts += 1;
        row.due_at = self.clock.stamp_in(TAKEN).at().to_owned();
        deliveries::set(&mut write, &row).await?;
        write.commit().await?;
        Ok(Some(row))
    }

    /// Sends it over its channel.
    async fn send(&self, row: &DeliveryRow) -> Result<Result<(), NotSent>, ServiceError> {
        if EventType::named(&row.event).is_some() {
            let not_now = NotSent { cause: NotSentCause::NoWebhook, for_good: false };
            let Some(webhook) = self.channels.webhook.clone() else { return Ok(Err(not_now)) };
            let message = self.posted_event(row);
            let done = tokio::task::spawn_blocking(move || webhook.send(&message)).await;
            return done.map_err(|_| ServiceError::CutOff);
        }
        let told: ToHolder = serde_json::from_str(&row.payload)
            .map_err(|_| ServiceError::Inconsistent("the event of a delivery cannot be read"))?;
        let contact = {
            let mut read = self.store.read().await?;
            contact_text(&mut read).await?
        };
        let message = self.message(&row.id, &told, &contact)?;
        let not_now = |cause| Ok(Err(NotSent { cause, for_good: false }));
        let done = if row.channel == MAIL {
            let Some(mail) = self.channels.mail.clone() else {
                return not_now(NotSentCause::NoMailServer);
            };
            let address = {
                let mut read = self.store.read().await?;
                kits::find(&mut read, &told.kit).await?.map(|kit| kit.customer_email).unwrap_or_default()
            };
            if address.is_empty() {
                return Ok(Err(NotSent { cause: NotSentCause::CustomerErased, for_good: true }));
            }
            tokio::task::spawn_blocking(move || mail.send(&message, &address)).await
        } else {
            let Some(webhook) = self.channels.webhook.clone() else {
                return not_now(NotSentCause::NoWebhook);
            };
            tokio::task::spawn_blocking(move || webhook.send(&message)).await
        };
        done.map_err(|_| ServiceError::CutOff)
    }

    async fn record_delivery(&self, mut row: DeliveryRow, sent: Result<(), NotSent>) -> Result<(), ServiceError> {
        let mut write = self.store.write().await?;
        match sent {
            Ok(()) => {
                row.state = DeliveryState::Sent.name().to_owned();
                row.error = String::new();
            }
            Err(NotSent { cause, for_good }) => {
                tracing::warn!(id = row.id, attempts = row.attempts, ?cause, "a delivery was not accepted");
                if for_good || row.attempts >= MOST_ATTEMPTS {
                    row.state = DeliveryState::Dead.name().to_owned();
                }
                row.due_at = self.clock.stamp_in(wait(row.attempts)).at().to_owned();
                row.error = cause.kept();
            }
        }
        deliveries::set(&mut write, &row).await?;
        Ok(write.commit().await?)
    }

    /// An event as it was written down.
    fn posted_event(&self, row: &DeliveryRow) -> Message {
        Message {
            id: row.id.clone(),
            timestamp: self.clock.now().unix_timestamp(),
            subject: String::new(),
            text: String::new(),
            json: row.payload.clone(),
        }
    }

    /// What is sent: serial, revision, what to do and where to read on; no more of anybody.
    fn message(&self, id: &str, told: &ToHolder, contact: &str) -> Result<Message, ServiceError> {
        let ToHolder { event, kit, design, revision, class, .. } = told;
        let link = format!("{}/kits/{kit}", self.public_address());
        let text = message::text_of(self.words, told);
        let (subject, body) = message::letter(self.words, &self.supplier, told, &link, contact)?;
        let unwritten = |_| ServiceError::Inconsistent("a message cannot be written");
        let json = HolderMessage {
            id: id.to_owned(),
            r#type: if event == "recall" { HolderMessageType::Recall } else { HolderMessageType::Notice },
            kit: kit.clone(),
            design: design.clone(),
            revision: revision.clone(),
            class: if class.is_empty() { None } else { Some(ChangeClass::of_notice(class)?) },
            text,
            link,
        };
        let json = serde_json::to_string(&json).map_err(unwritten)?;
        let timestamp = self.clock.now().unix_timestamp();
        Ok(Message { id: id.to_owned(), timestamp, subject, text: body, json })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn attempts_come_ever_less_often_and_end_after_some_days() {
        let waits: Vec<i64> = (1..MOST_ATTEMPTS).map(|attempts| wait(attempts).whole_seconds()).collect();
        assert_eq!(waits, [30, 120, 480, 1920, 7680, 21600, 21600, 21600]);
    }
}
