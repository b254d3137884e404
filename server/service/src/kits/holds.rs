//! Holds: in a dispute or after a theft nothing more of a kit's drawings is handed out. What warns its holder still reaches them:
//! stop sheets and notices come before any quarrel.

use crate::rules::lookup::readable_kit;
use crate::rules::number::number as written;
use crate::rules::valid::Checks;
use crate::{IdempotentCall, Principal, Reason, Service, ServiceError};
use matchmark_store::audit::{self, Act};
use matchmark_store::holds::{self, HoldRow};
use matchmark_store::{Conn, Write};
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

/// A hold to put on a kit.
#[derive(Debug, Clone, Deserialize, Serialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(example = json!({
    "reason": "Reported stolen on 12 March; the buyer has sent the police report.",
    "ask": "Quillmoor Frameworks, kits@mail.example, between 9 and 17 h."
}))]
pub struct NewHold {
    /// Why, for the supplier's own people. The holder of the kit does not see it.
    #[serde(default)]
    pub reason: String,
    /// Whom the holder of the kit is to ask, and how; they read it.
    #[serde(default)]
    pub ask: String,
}

impl NewHold {
    /// Refuses texts that will not do.
    pub fn check(&self) -> Result<(), ServiceError> {
        let mut checks = Checks::default();
        checks.note("/reason", &self.reason);
        checks.note("/ask", &self.ask);
        checks.done()
    }
}

/// A hold.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct HoldView {
    /// Number within the kit, from 1.
    pub number: i64,
    /// Why; only the supplier's people see it, and it is empty once the customer was erased.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub reason: Option<String>,
    /// Whom the holder of the kit is to ask.
    pub ask: String,
    /// Since when, RFC 3339 in UTC.
    pub at: String,
    /// Id of the token that put it; only the supplier's people see it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub by: Option<String>,
    /// When it was lifted; absent while it stands.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub lifted_at: Option<String>,
    /// Id of the token that lifted it; only the supplier's people see it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub lifted_by: Option<String>,
    /// Why it was lifted; only the supplier's people see it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub lift_reason: Option<String>,
}

impl HoldView {
    fn of(row: HoldRow, who: &Principal) -> Self {
        let own = who.may_support().is_ok();
        let lifted = row.lifted_at.is_some();
        Self {
            number: row.number,
            reason: own.then_some(row.reason),
            ask: row.ask,
            at: row.at,
            by: own.then_some(row.token),
            lifted_at: row.lifted_at,
            lifted_by: row.lifted_by.filter(|_| own),
            lift_reason: (own && lifted).then_some(row.lift_reason),
        }
    }
}

impl Service {
    /// Puts a hold on a kit.
    pub async fn hold(
        &self,
        who: &Principal,
        serial: &str,
        new: &NewHold,
        once: &IdempotentCall,
    ) -> Result<HoldView, ServiceError> {
        who.may_publish()?;
        new.check()?;
        let stamp = self.clock.stamp();
        let mut write = self.store.write().await?;
        readable_kit(&mut write, who, serial).await?;
        // The number alone: a reason may name people, who may be erased.
        if let Some(number) = once.answered::<i64>(&mut write).await? {
            return numbered(&mut write, who, serial, number).await;
        }
        let before = holds::list(&mut write, serial).await?;
        if let Some(hold) = before.iter().find(|hold| hold.lifted_at.is_none()) {
            return Err(ServiceError::HeldAlready { kit: serial.to_owned(), number: hold.number });
        }
        let row = HoldRow {
            number: i64::try_from(before.len()).unwrap_or(i64::MAX - 1) + 1,
            reason: new.reason.clone(),
            ask: new.ask.clone(),
            at: stamp.at().to_owned(),
            token: who.token.clone(),
            lifted_at: None,
            lifted_by: None,
            lift_reason: String::new(),
        };
        holds::insert(&mut write, serial, &row).await?;
        self.end_hold_write(write, who, serial, row.number, once, "hold-kit").await
    }

    /// Lifts a hold. A second time changes nothing; `number` as the caller wrote it.
    pub async fn lift_hold(
        &self,
        who: &Principal,
        serial: &str,
        number: &str,
        reason: &Reason,
        once: &IdempotentCall,
    ) -> Result<HoldView, ServiceError> {
        who.may_publish()?;
        reason.check()?;
        let stamp = self.clock.stamp();
        let mut write = self.store.write().await?;
        readable_kit(&mut write, who, serial).await?;
        if let Some(number) = once.answered::<i64>(&mut write).await? {
            return numbered(&mut write, who, serial, number).await;
        }
        let unknown = || ServiceError::UnknownHold { kit: serial.to_owned(), number: number.to_owned() };
        let wanted = written(number).ok_or_else(unknown)?;
        let hold = numbered(&mut write, who, serial, wanted).await?;
        if hold.lifted_at.is_some() {
            return Ok(hold);
        }
        holds::lift(&mut write, serial, stamp.at(), &who.token, &reason.reason).await?;
        self.end_hold_write(write, who, serial, wanted, once, "lift-hold").await
    }

    /// The holds of a kit, oldest first.
    pub async fn holds(&self, who: &Principal, serial: &str) -> Result<Vec<HoldView>, ServiceError> {
        let mut read = self.store.read().await?;
        readable_kit(&mut read, who, serial).await?;
        let rows = holds::list(&mut read, serial).await?;
        Ok(rows.into_iter().map(|row| HoldView::of(row, who)).collect())
    }

    async fn end_hold_write(
        &self,
        mut write: Write,
        who: &Principal,
        serial: &str,
        number: i64,
        once: &IdempotentCall,
        action: &str,
    ) -> Result<HoldView, ServiceError> {
        let stamp = self.clock.stamp();
        let subject = format!("kits/{serial}/holds/{number}");
        audit::append(&mut write, Act { at: stamp.at(), actor: &who.token, action, subject: &subject }).await?;
        once.record(&mut write, &number, stamp.at()).await?;
        let view = numbered(&mut write, who, serial, number).await?;
        write.commit().await?;
        Ok(view)
    }
}

async fn numbered(conn: &mut Conn, who: &Principal, serial: &str, number: i64) -> Result<HoldView, ServiceError> {
    let rows = holds::list(conn, serial).await?;
    let found = rows.into_iter().find(|row| row.number == number);
    let row = found.ok_or_else(|| ServiceError::UnknownHold { kit: serial.to_owned(), number: number.to_string() })?;
    Ok(HoldView::of(row, who))
}
