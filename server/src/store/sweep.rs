//! Orphaned blobs: kept for a pack whose row never came, because the process died in between or somebody else's pack got the number.
//! They are removed once they are old, never one that a pack speaks of.
//!
//! Each is removed inside a write, when nobody else can record a pack; and whoever records one looks inside that write whether its
//! blobs are still there. So none goes between being kept and being spoken of.

use super::objects::{Aged, Group};
use super::{Store, StoreError, packs};
use std::time::Duration;
use time::OffsetDateTime;

/// How many are removed in one write.
const AT_ONCE: usize = 20;

/// One write lasts no longer, so that others do not wait in vain and PostgreSQL does not end it.
const PATIENCE: Duration = Duration::from_secs(10);

/// What was removed.
#[derive(Debug, Default)]
pub struct Swept {
    /// How many blobs.
    pub blobs: usize,
    /// Bytes in them.
    pub bytes: u64,
    /// How many files that were never finished.
    pub unfinished: usize,
}

impl Store {
    /// Removes orphans that were last written before this time.
    pub async fn sweep(&self, before: OffsetDateTime) -> Result<Swept, StoreError> {
        let mut swept = Swept { unfinished: self.objects.remove_unfinished(before).await?, ..Swept::default() };
        for some in self.objects.aged(Group::Blobs, before).await?.chunks(AT_ONCE) {
            let mut orphans = Vec::new();
            let mut read = self.read().await?;
            for aged in some.iter().filter(|aged| is_hash(&aged.name)) {
                if !packs::speak_of(&mut read, &aged.name).await? {
                    orphans.push(aged);
                }
            }
            drop(read);
            if !orphans.is_empty() {
                let removed = tokio::time::timeout(PATIENCE, self.remove(&orphans, &mut swept)).await;
                removed.map_err(|_| StoreError::SweepTooSlow)??;
            }
        }
        Ok(swept)
    }

    async fn remove(&self, orphans: &[&Aged], swept: &mut Swept) -> Result<(), StoreError> {
        let mut write = self.write().await?;
        for orphan in orphans {
            if !packs::speak_of(&mut write, &orphan.name).await? {
                self.objects.remove(Group::Blobs, &orphan.name).await?;
                swept.blobs += 1;
                swept.bytes += orphan.bytes;
            }
        }
        Ok(())
    }
}

/// What is not named by a hash is none of ours.
fn is_hash(name: &str) -> bool {
    name.len() == 64 && name.bytes().all(|byte| byte.is_ascii_digit() || (b'a'..=b'f').contains(&byte))
}
