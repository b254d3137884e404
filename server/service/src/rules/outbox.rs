//! Writing down that the holder of a kit is to be told of something.

use crate::rules::reasons::Recall;
use crate::{Service, ServiceError};
use matchmark_store::Conn;
use matchmark_store::clock::Stamp;
use matchmark_store::deliveries::{self, DeliveryRow};
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

/// How far a delivery is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize, Serialize, ToSchema)]
#[serde(rename_all = "lowercase")]
pub enum DeliveryState {
    /// To be sent, or to be tried again.
    Waiting,
    /// Taken by its receiver.
    Sent,
    /// Given up; it can be tried again by hand.
    Dead,
}

impl DeliveryState {
    /// The word for it.
    pub fn name(self) -> &'static str {
        match self {
            Self::Waiting => "waiting",
            Self::Sent => "sent",
            Self::Dead => "dead",
        }
    }
}

/// What the holder of a kit is to be told of. It names no person.
#[derive(Debug, Clone, Deserialize, Serialize)]
pub(crate) struct ToHolder {
    /// `notice` or `recall`.
    pub event: String,
    /// Serial of the kit.
    pub kit: String,
    /// Id of the design.
    pub design: String,
    /// Letter of the revision: that of the kit, or the one recalled.
    pub revision: String,
    /// `mandatory`, `recommended` or `optional`; empty for a recall.
    pub class: String,
    /// What the supplier says; empty for a recall, which says more. One that an earlier version wrote down may have it as text.
    pub text: String,
    /// A recall.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub recall: Option<Recall>,
}

impl Service {
    /// Writes down that a holder is to be told over every channel that is configured; belongs in the transaction of the event.
    /// `name` sets the event apart from all others.
    pub(crate) async fn tell(
        &self,
        conn: &mut Conn,
        name: &str,
        told: &ToHolder,
        stamp: &Stamp,
    ) -> Result<(), ServiceError> {
        let payload =
            serde_json::to_string(told).map_err(|_| ServiceError::Inconsistent("an event cannot be written"))?;
        for channel in self.channels.names() {
            let row = DeliveryRow {
                id: format!("{}.{name}.{}.{channel}", told.event, told.kit),
                channel: channel.to_owned(),
                event: told.event.clone(),
                kit: Some(told.kit.clone()),
                payload: payload.clone(),
                state: DeliveryState::Waiting.name().to_owned(),
                attempts: 0,
                due_at: stamp.at().to_owned(),
                error: String::new(),
                created_at: stamp.at().to_owned(),
            };
            deliveries::insert(conn, &row).await?;
        }
        Ok(())
    }
}
