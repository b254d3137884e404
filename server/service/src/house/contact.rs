//! Whom the supplier's customers are to ask: kept in the database, first as the settings say, then as a publisher does.

use crate::rules::valid::Checks;
use crate::{Principal, Service, ServiceError};
use matchmark_store::Conn;
use matchmark_store::audit::{self, Act};
use matchmark_store::contacts::{self, ContactRow};
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

/// Whom to ask, to be said anew.
#[derive(Debug, Clone, Deserialize, Serialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(example = json!({"text": "kits@mail.example\nTelephone 01632 960 017, 9 to 17 h"}))]
pub struct NewContact {
    /// Whom to ask, and how: 1 to 300 characters on at most four lines. It is printed on covers and stop sheets and shown without sign-in.
    #[serde(default)]
    pub text: String,
}

/// Whom to ask.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct ContactView {
    /// The supplier.
    pub supplier: String,
    /// Whom to ask, and how, on up to four lines; absent while nobody has said.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub text: Option<String>,
    /// Since when, RFC 3339 in UTC.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub at: Option<String>,
}

impl Service {
    /// Whom to ask. Anyone may know.
    pub async fn contact(&self) -> Result<ContactView, ServiceError> {
        let mut read = self.store.read().await?;
        Ok(self.contact_view(contacts::newest(&mut read).await?))
    }

    /// Says anew whom to ask; the same again changes nothing.
    pub async fn set_contact(&self, who: &Principal, new: &NewContact) -> Result<ContactView, ServiceError> {
        who.may_publish()?;
        let mut checks = Checks::default();
        checks.contact("/text", &new.text);
        checks.done()?;
        let stamp = self.clock.stamp();
        let mut write = self.store.write().await?;
        let before = contacts::newest(&mut write).await?;
        if before.as_ref().is_some_and(|before| before.text == new.text) {
            return Ok(self.contact_view(before));
        }
        let number = before.map_or(1, |before| before.number + 1);
        let row = ContactRow { number, text: new.text.clone(), at: stamp.at().to_owned(), token: who.token.clone() };
        add(&mut write, &row, "change-contact").await?;
        write.commit().await?;
        Ok(self.contact_view(Some(row)))
    }

    /// Takes over what the settings say, into a database where nobody has said it yet.
    pub async fn first_contact(&self, text: &str) -> Result<(), ServiceError> {
        let stamp = self.clock.stamp();
        let mut write = self.store.write().await?;
        match contacts::newest(&mut write).await? {
            Some(newest) if newest.text != text => {
                tracing::info!("a publisher has changed the contact since, so the setting is not used");
                Ok(())
            }
            Some(_) => Ok(()),
            None => {
                let (text, at) = (text.to_owned(), stamp.at().to_owned());
                let row = ContactRow { number: 1, text, at, token: "system".to_owned() };
                add(&mut write, &row, "take-contact").await?;
                Ok(write.commit().await?)
            }
        }
    }

    fn contact_view(&self, row: Option<ContactRow>) -> ContactView {
        let (text, at) = row.map(|row| (row.text, row.at)).unzip();
        ContactView { supplier: self.supplier.clone(), text, at }
    }
}

async fn add(conn: &mut Conn, row: &ContactRow, action: &str) -> Result<(), ServiceError> {
    contacts::insert(conn, row).await?;
    let subject = format!("contact/{}", row.number);
    Ok(audit::append(conn, Act { at: &row.at, actor: &row.token, action, subject: &subject }).await?)
}
