//! Sessions of people on the pages: begun with a token, kept as hashes, good for some hours and no longer than the token.

use crate::{Principal, Service, ServiceError};
use matchmark_store::audit::{self, Act};
use matchmark_store::hash::sha256_hex;
use matchmark_store::{secret, sessions, tokens};
use time::Duration;

/// How long a session lasts.
pub const SESSION_LASTS: Duration = Duration::hours(12);

impl Service {
    /// Begins a session for whoever shows this token, and returns what the browser is to show from then on; `None` when nobody was
    /// given the token. The session that it showed before ends.
    pub async fn begin_session(
        &self,
        token: &str,
        before: Option<&str>,
    ) -> Result<Option<(String, Principal)>, ServiceError> {
        let Some(who) = self.principal(token).await? else {
            return Ok(None);
        };
        let secret = secret::token("mmw_");
        let stamp = self.clock.stamp();
        let until = self.clock.stamp_in(SESSION_LASTS);
        let mut write = self.store.write().await?;
        sessions::forget(&mut write, stamp.at()).await?;
        if let Some(before) = before.map(sha256_hex)
            && let Some(id) = sessions::token(&mut write, &before, stamp.at()).await?
        {
            sessions::end(&mut write, &before, stamp.at()).await?;
            let subject = format!("tokens/{id}");
            let act = Act { at: stamp.at(), actor: &who.token, action: "end-session", subject: &subject };
            audit::append(&mut write, act).await?;
        }
        sessions::insert(&mut write, &sha256_hex(&secret), &who.token, stamp.at(), until.at()).await?;
        let subject = format!("tokens/{}", who.token);
        let act = Act { at: stamp.at(), actor: &who.token, action: "begin-session", subject: &subject };
        audit::append(&mut write, act).await?;
        write.commit().await?;
        Ok(Some((secret, who)))
    }

    /// Who is signed in with this; `None` when the session ended, or its token.
    pub async fn session(&self, secret: &str) -> Result<Option<Principal>, ServiceError> {
        let now = self.clock.stamp();
        let mut read = self.store.read().await?;
        let Some(id) = sessions::token(&mut read, &sha256_hex(secret), now.at()).await? else {
            return Ok(None);
        };
        match tokens::by_id(&mut read, &id).await? {
            Some(row) => super::tokens::bearer(row, now.at()),
            None => Ok(None),
        }
    }

    /// Signs out.
    pub async fn end_session(&self, who: &Principal, secret: &str) -> Result<(), ServiceError> {
        let stamp = self.clock.stamp();
        let mut write = self.store.write().await?;
        sessions::end(&mut write, &sha256_hex(secret), stamp.at()).await?;
        let subject = format!("tokens/{}", who.token);
        let act = Act { at: stamp.at(), actor: &who.token, action: "end-session", subject: &subject };
        audit::append(&mut write, act).await?;
        Ok(write.commit().await?)
    }
}
