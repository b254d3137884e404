//! The keys that sign: every process on a database must have the same ones, or pages signed by one would be unknown to the next.

use super::ServiceError;
use crate::clock::Clock;
use crate::store::audit::{self, Act};
use crate::store::signing_keys::{self, Purpose};
use crate::store::{Conn, Store, StoreError};

/// Public keys by what they sign, 64 hexadecimal digits each.
#[derive(Debug, Clone)]
pub struct PublicKeys {
    /// Of pages.
    pub pages: String,
    /// Of what is said of designs.
    pub status: String,
}

impl PublicKeys {
    fn of(&self, purpose: Purpose) -> &str {
        match purpose {
            Purpose::Pages => &self.pages,
            Purpose::Status => &self.status,
        }
    }
}

/// Whether a key of pages is known already, so that a new one must not be made.
pub async fn is_signed_for(store: &Store) -> Result<bool, StoreError> {
    Ok(!signing_keys::list(&mut store.read().await?, Purpose::Pages).await?.is_empty())
}

/// Refuses keys that are not those in force; the first ones that come are. Returns the keys of pages from before, newest first.
pub async fn must_be_ours(store: &Store, clock: &dyn Clock, keys: &PublicKeys) -> Result<Vec<String>, ServiceError> {
    // Most often all are known, which is no reason to wait for those that write.
    if unknown(&mut store.read().await?, keys).await?.is_empty() {
        let mut former = signing_keys::list(&mut store.read().await?, Purpose::Pages).await?;
        former.retain(|key| *key != keys.pages);
        return Ok(former);
    }
    let stamp = clock.stamp();
    let mut write = store.write().await?;
    for purpose in unknown(&mut write, keys).await? {
        let key = keys.of(purpose);
        signing_keys::insert(&mut write, purpose, key, stamp.at()).await?;
        let subject = format!("signing-keys/{}/{key}", purpose.name());
        let act = Act { at: stamp.at(), actor: "system", action: "first-key", subject: &subject };
        audit::append(&mut write, act).await?;
    }
    write.commit().await?;
    Ok(Vec::new())
}

/// The purposes that no key is known of yet; refuses where another one is.
async fn unknown(conn: &mut Conn, keys: &PublicKeys) -> Result<Vec<Purpose>, StoreError> {
    let mut unknown = Vec::new();
    for purpose in Purpose::ALL {
        signing_keys::must_be_in_force(conn, purpose, keys.of(purpose)).await?;
        if signing_keys::list(conn, purpose).await?.is_empty() {
            unknown.push(purpose);
        }
    }
    Ok(unknown)
}

/// Puts these keys in force, on record, and says which purposes have another one now.
pub async fn adopt(store: &Store, clock: &dyn Clock, keys: &PublicKeys) -> Result<Vec<&'static str>, ServiceError> {
    let stamp = clock.stamp();
    let mut write = store.write().await?;
    let mut changed = Vec::new();
    for purpose in Purpose::ALL {
        let key = keys.of(purpose);
        if signing_keys::list(&mut write, purpose).await?.first().is_some_and(|in_force| in_force == key) {
            continue;
        }
        signing_keys::insert(&mut write, purpose, key, stamp.at()).await?;
        let subject = format!("signing-keys/{}/{key}", purpose.name());
        let act = Act { at: stamp.at(), actor: "system", action: "adopt-key", subject: &subject };
        audit::append(&mut write, act).await?;
        changed.push(purpose.name());
    }
    write.commit().await?;
    Ok(changed)
}
