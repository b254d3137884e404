//! Signing, with a key that is in force at that moment, and the public keys to check it with.

use crate::{Service, ServiceError};
use matchmark_core::pack::Seal;
use matchmark_store::signing_keys::{self, KeyRow, Purpose};
use matchmark_store::{Conn, StoreError};
use serde::Serialize;
use std::collections::BTreeMap;
use utoipa::ToSchema;

/// The keys with which pages and what is said of designs can be checked offline.
#[derive(Debug, Default, Serialize, ToSchema)]
pub struct PublicKeyView {
    /// Ed25519 public key, 64 hexadecimal digits; null when the service signs nothing, or this key was revoked and no other is in
    /// force yet.
    pub public_key: Option<String>,
    /// The same for the status of designs: the key above unless one of its own is set.
    pub status_public_key: Option<String>,
    /// Keys that pages were signed with before, newest first.
    pub former_public_keys: Vec<String>,
    /// Keys that may be in strange hands: trust nothing that only they vouch for. Ask the service about such a page; it knows those of
    /// its packs by the record.
    pub revoked_public_keys: Vec<RevokedKey>,
}

/// A key that was revoked.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct RevokedKey {
    /// 64 hexadecimal digits.
    pub public_key: String,
    /// When it was revoked, RFC 3339 in UTC.
    pub revoked_at: String,
}

impl Service {
    /// What packs of a design are signed with, when the key is in force. A process that was started with another one signs nothing.
    pub(crate) async fn seal(&self, conn: &mut Conn, design: &str) -> Result<Option<Seal>, ServiceError> {
        let Some(sealing) = &self.sealing else { return Ok(None) };
        self.must_sign(conn, Purpose::Pages).await?;
        Ok(Some(Seal { key: sealing.key.clone(), design_id: design.to_owned(), address: sealing.address.clone() }))
    }

    /// Refuses to sign with a key that is not in force any more, or revoked.
    pub(crate) async fn must_sign(&self, conn: &mut Conn, purpose: Purpose) -> Result<(), ServiceError> {
        let Some(sealing) = &self.sealing else { return Ok(()) };
        let key = match purpose {
            Purpose::Pages => sealing.key.public().hex(),
            Purpose::Status => sealing.status_key.public().hex(),
        };
        let refused = match signing_keys::must_be_in_force(conn, purpose, &key).await {
            Ok(()) => signing_keys::must_not_be_revoked(conn, purpose, &key).await,
            refused => refused,
        };
        match refused {
            Err(error @ (StoreError::OtherKey { .. } | StoreError::RevokedKey { .. })) => {
                tracing::error!(%error, "this process no longer signs anything");
                Err(ServiceError::KeyNotInForce)
            }
            other => Ok(other?),
        }
    }

    /// The public keys with which pages and what is said of designs can be checked offline.
    pub async fn public_keys(&self) -> Result<PublicKeyView, ServiceError> {
        if self.sealing.is_none() {
            return Ok(PublicKeyView::default());
        }
        let mut read = self.store.read().await?;
        let pages = signing_keys::list(&mut read, Purpose::Pages).await?;
        let status = signing_keys::list(&mut read, Purpose::Status).await?;
        let good = |key: &KeyRow| key.revoked_at.is_none().then(|| key.public_key.clone());
        let revoked: BTreeMap<&String, &String> =
            pages.iter().chain(&status).filter_map(|key| Some((&key.public_key, key.revoked_at.as_ref()?))).collect();
        let revoked = revoked.into_iter();
        Ok(PublicKeyView {
            public_key: pages.first().and_then(good),
            status_public_key: status.first().and_then(good),
            former_public_keys: pages.iter().skip(1).filter_map(good).collect(),
            revoked_public_keys: revoked
                .map(|(key, at)| RevokedKey { public_key: key.clone(), revoked_at: at.clone() })
                .collect(),
        })
    }
}
