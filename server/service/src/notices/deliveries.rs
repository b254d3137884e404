//! Deliveries of notices and recalls: written down with the event itself, listed, tried again by hand. [`super::deliver`] sends
//! them.

use crate::rules::outbox::DeliveryState;
use crate::send::cause_said;
use crate::words::of_problems;
use crate::{Listed, Page, Principal, Service, ServiceError};
use matchmark_store::audit::{self, Act};
use matchmark_store::deliveries::{self, DeliveryRow};
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

/// A delivery.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct DeliveryView {
    /// Its id, which the receiver sees too.
    #[schema(example = "notice.fenrunner-two.1.QF-0101.webhook")]
    pub id: String,
    /// `webhook` or `mail`.
    pub channel: String,
    /// `notice`, `recall` or the type of an event.
    pub event: String,
    /// Serial of the kit; absent for an event of none.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub kit: Option<String>,
    /// How far it is.
    pub state: DeliveryState,
    /// How often it was tried.
    pub attempts: i64,
    /// When it is tried next, RFC 3339 in UTC; absent when it is not.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub due_at: Option<String>,
    /// Why the last attempt failed.
    #[serde(skip_serializing_if = "String::is_empty")]
    pub error: String,
    /// When it was written down.
    pub created_at: String,
}

impl From<DeliveryRow> for DeliveryView {
    fn from(row: DeliveryRow) -> Self {
        let state = match row.state.as_str() {
            "sent" => DeliveryState::Sent,
            "dead" => DeliveryState::Dead,
            _ => DeliveryState::Waiting,
        };
        Self {
            id: row.id,
            channel: row.channel,
            event: row.event,
            kit: row.kit,
            state,
            attempts: row.attempts,
            due_at: Some(row.due_at).filter(|_| state == DeliveryState::Waiting),
            error: cause_said(of_problems(), row.error),
            created_at: row.created_at,
        }
    }
}

/// Which deliveries to list.
#[derive(Debug, Clone, Default, Deserialize, utoipa::IntoParams)]
#[serde(deny_unknown_fields)]
#[into_params(parameter_in = Query)]
pub struct DeliveriesWanted {
    /// Only those in this state.
    pub state: Option<DeliveryState>,
    /// How many at most: 50 when absent, never more than 200.
    #[param(minimum = 1)]
    pub page_size: Option<usize>,
    /// The `next` of the page before.
    pub cursor: Option<String>,
}

impl Service {
    /// A page of deliveries, in order of their id.
    pub async fn deliveries(
        &self,
        who: &Principal,
        wanted: &DeliveriesWanted,
        page: &Page,
    ) -> Result<Listed<DeliveryView>, ServiceError> {
        who.may_support()?;
        let mut read = self.store.read().await?;
        let limit = i64::try_from(page.limit + 1).unwrap_or(i64::MAX);
        let rows = deliveries::list(&mut read, wanted.state.map(DeliveryState::name), &page.after, limit).await?;
        let views = rows.into_iter().map(DeliveryView::from).collect();
        Ok(Listed::cut(views, page.limit, |view: &DeliveryView| view.id.clone()))
    }

    /// Tries a delivery again that was given up, or one that waits, at once. What was sent is not sent again.
    pub async fn retry_delivery(&self, who: &Principal, id: &str) -> Result<DeliveryView, ServiceError> {
        who.may_support()?;
        let stamp = self.clock.stamp();
        let mut write = self.store.write().await?;
        let found = deliveries::find(&mut write, id).await?;
        let mut row = found.ok_or_else(|| ServiceError::UnknownDelivery(id.to_owned()))?;
        if row.state == DeliveryState::Sent.name() {
            return Err(ServiceError::SentAlready(id.to_owned()));
        }
        row.state = DeliveryState::Waiting.name().to_owned();
        row.attempts = 0;
        row.due_at = stamp.at().to_owned();
        deliveries::set(&mut write, &row).await?;
        let subject = format!("deliveries/{id}");
        let act = Act { at: stamp.at(), actor: &who.token, action: "retry-delivery", subject: &subject };
        audit::append(&mut write, act).await?;
        write.commit().await?;
        self.delivery_news.notify_one();
        Ok(row.into())
    }
}
