//! The keys that sign: every process on a database must have the same ones, or pages signed by one would be unknown to the next.

use crate::ServiceError;
use matchmark_store::audit::{self, Act};
use matchmark_store::clock::Clock;
use matchmark_store::signing_keys::{self, Purpose};
use matchmark_store::{Conn, Store, StoreError};

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

/// Refuses keys that are not those in force, or revoked; the first ones that come are in force.
pub async fn must_be_ours(store: &Store, clock: &dyn Clock, keys: &PublicKeys) -> Result<(), ServiceError> {
    // Most often all are known, which is no reason to wait for those that write.
    if unknown(&mut store.read().await?, keys).await?.is_empty() {
        return Ok(());
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
    Ok(write.commit().await?)
}

/// The purposes that no key is known of yet; refuses where another one is.
async fn unknown(conn: &mut Conn, keys: &PublicKeys) -> Result<Vec<Purpose>, StoreError> {
    let mut unknown = Vec::new();
    for purpose in Purpose::ALL {
        signing_keys::must_be_in_force(conn, purpose, keys.of(purpose)).await?;
        signing_keys::must_not_be_revoked(conn, purpose, keys.of(purpose)).await?;
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
        signing_keys::must_not_be_revoked(&mut write, purpose, key).await?;
        if signing_keys::list(&mut write, purpose).await?.first().is_some_and(|in_force| in_force.public_key == key) {
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

/// What becomes of a key that is to be revoked.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Revoked {
    /// The service signed with it until now.
    InForce,
    /// It signed before.
    Former,
    /// It was revoked already.
    Before,
    /// The service never signed with it.
    Unknown,
}

/// Revokes a key, on record: nothing is signed with it any more, and what it signed is told by the record alone.
pub async fn revoke(store: &Store, clock: &dyn Clock, public_key: &str, reason: &str) -> Result<Revoked, ServiceError> {
    let stamp = clock.stamp();
    let mut write = store.write().await?;
    let mut found = Revoked::Unknown;
    for purpose in Purpose::ALL {
        for (age, key) in signing_keys::list(&mut write, purpose).await?.into_iter().enumerate() {
            if key.public_key != public_key {
                continue;
            }
            if key.revoked_at.is_some() {
                return Ok(Revoked::Before);
            }
            found = if age == 0 || found == Revoked::InForce { Revoked::InForce } else { Revoked::Former };
        }
    }
    if found != Revoked::Unknown {
        signing_keys::revoke(&mut write, public_key, stamp.at(), reason).await?;
        let subject = format!("signing-keys/{public_key}");
        let act = Act { at: stamp.at(), actor: "system", action: "revoke-key", subject: &subject };
        audit::append(&mut write, act).await?;
        write.commit().await?;
    }
    Ok(found)
}
