//! Whose the place of the blobs is: it bears the name of one database, and no other writes or sweeps there.

use super::audit::{self, Act};
use super::objects::{Group, Objects};
use super::{Conn, Store, StoreError, packs, sql};
use crate::hash::sha256_hex;
use crate::secret;
use std::io;
use std::sync::atomic::Ordering;

/// The name of this database; none before its first start with a version that gives one.
pub async fn name(conn: &mut Conn) -> Result<Option<String>, StoreError> {
    sql("SELECT id FROM identity").optional_value(conn).await
}

/// Refuses a place that is another database's, or nobody's.
pub async fn must_be_ours(conn: &mut Conn, objects: &Objects) -> Result<(), StoreError> {
    let ours = name(conn).await?.unwrap_or_default();
    match objects.owner().await? {
        Some(owner) if owner == ours => Ok(()),
        owner => Err(StoreError::OtherStore { owner: owner.unwrap_or_else(|| "nobody".to_owned()), ours }),
    }
}

impl Store {
    /// Puts the name of this database on the place of the blobs where there is none yet, and refuses the place where there is
    /// another one. A place without a name that holds blobs is ours only if a pack of ours speaks of one of them.
    pub(super) async fn settle(&self, at: &str) -> Result<(), StoreError> {
        if self.settled.load(Ordering::Relaxed) {
            return Ok(());
        }
        let owner = self.objects.owner().await?;
        let ours = self.named(owner.as_deref(), at).await?;
        match owner {
            Some(owner) if owner == ours => {
                self.settled.store(true, Ordering::Relaxed);
                return Ok(());
            }
            Some(owner) => return Err(StoreError::OtherStore { owner, ours }),
            None => {}
        }
        if !self.knows_a_blob().await? && !self.objects.is_empty(Group::Blobs).await? {
            return Err(StoreError::StrangeStore);
        }
        self.objects.claim(&ours).await?;
        // Two that begin on one place at the same time: the first to write its name has it.
        must_be_ours(&mut self.read().await?, &self.objects).await?;
        self.settled.store(true, Ordering::Relaxed);
        Ok(())
    }

    /// Gives a database that was restored a name of its own, and the place of the blobs with it. It wrote none of the blobs that no
    /// pack speaks of.
    pub async fn rename(&self, at: &str) -> Result<(), StoreError> {
        let id = secret::id();
        let mut write = self.write().await?;
        name_act(&mut write, &id, at).await?;
        sql("DELETE FROM written_blobs").execute(&mut write).await?;
        sql("INSERT INTO identity (one, id) VALUES (1, $1) ON CONFLICT (one) DO UPDATE SET id = excluded.id")
            .bind(&id)
            .execute(&mut write)
            .await?;
        write.commit().await?;
        self.objects.disown().await?;
        self.objects.claim(&id).await
    }

    /// Whether a recorded pack refers to a blob that exists.
    async fn knows_a_blob(&self) -> Result<bool, StoreError> {
        match packs::any_file(&mut self.read().await?).await? {
            Some(file) => self.blobs.has(&file).await,
            None => Ok(false),
        }
    }

    /// The name of this database, given now if it has none: one from before there were names that knows the blobs of this place is
    /// the place's own, put back as it was before an upgrade.
    async fn named(&self, owner: Option<&str>, at: &str) -> Result<String, StoreError> {
        if let Some(name) = name(&mut self.read().await?).await? {
            return Ok(name);
        }
        let id = match owner {
            Some(owner) if self.knows_a_blob().await? => owner.to_owned(),
            _ => secret::id(),
        };
        let mut write = self.write().await?;
        if let Some(name) = name(&mut write).await? {
            return Ok(name);
        }
        name_act(&mut write, &id, at).await?;
        sql("INSERT INTO identity (one, id) VALUES (1, $1)").bind(&id).execute(&mut write).await?;
        write.commit().await?;
        Ok(id)
    }

    /// Keeps blobs and returns their hashes once they would survive a power cut. That this database writes them is on its list
    /// before the first of them is there.
    pub async fn keep<const N: usize>(&self, files: [Vec<u8>; N], at: &str) -> Result<[String; N], StoreError> {
        let hashed = move || (files.each_ref().map(sha256_hex), files);
        let (hashes, files) = tokio::task::spawn_blocking(hashed)
            .await
            .map_err(|error| StoreError::Directory(io::Error::other(error)))?;
        self.settle(at).await?;
        let mut write = self.write().await?;
        for (sha256, file) in hashes.iter().zip(&files) {
            sql("INSERT INTO written_blobs (sha256, bytes, at) VALUES ($1, $2, $3) \
                 ON CONFLICT (sha256) DO UPDATE SET at = excluded.at")
            .bind(sha256)
            .bind(i64::try_from(file.len()).unwrap_or(i64::MAX))
            .bind(at)
            .execute(&mut write)
            .await?;
        }
        write.commit().await?;
        for (sha256, file) in hashes.iter().zip(files) {
            self.objects.put(Group::Blobs, sha256, file).await?;
        }
        Ok(hashes)
    }
}

async fn name_act(conn: &mut Conn, id: &str, at: &str) -> Result<(), StoreError> {
    let subject = format!("databases/{id}");
    audit::append(conn, Act { at, actor: "system", action: "name-database", subject: &subject }).await
}
