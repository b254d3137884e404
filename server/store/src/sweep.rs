//! Orphaned blobs: kept for a pack whose row never came, because the process died in between or somebody else's pack got the number.
//! They are removed once they are old, never one that a pack speaks of, and never one that this database did not write.
//!
//! Each is removed inside a write, when nobody else can record a pack; and whoever records one looks inside that write whether its
//! blobs are still there. So none goes between being kept and being spoken of.

use super::objects::Group;
use super::{Store, StoreError, ownership, packs, sql};
use crate::clock::Stamp;
use sqlx_macros::FromRow;
use std::time::Duration;
use time::OffsetDateTime;

/// How many are looked at in one write.
const AT_ONCE: i64 = 20;

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

#[derive(Debug, FromRow)]
struct WrittenRow {
    sha256: String,
    bytes: i64,
}

impl Store {
    /// Removes orphans that were written before this time.
    pub async fn sweep(&self, before: OffsetDateTime) -> Result<Swept, StoreError> {
        ownership::must_be_ours(&mut self.read().await?, &self.objects).await?;
        let mut swept = Swept { unfinished: self.objects.remove_unfinished(before).await?, ..Swept::default() };
        let before = Stamp::of(before);
        loop {
            let some = tokio::time::timeout(PATIENCE, self.sweep_some(before.at(), &mut swept)).await;
            if some.map_err(|_| StoreError::SweepTooSlow)?? == 0 {
                return Ok(swept);
            }
        }
    }

    /// Looks at some that are on the list of what was written, and says how many.
    async fn sweep_some(&self, before: &str, swept: &mut Swept) -> Result<usize, StoreError> {
        let old = "SELECT sha256, bytes FROM written_blobs WHERE at < $1 ORDER BY sha256 LIMIT $2";
        // Most often there is none, which is no reason to keep others waiting.
        let any: Vec<WrittenRow> = sql(old).bind(before).bind(1_i64).all(&mut self.read().await?).await?;
        if any.is_empty() {
            return Ok(0);
        }
        let mut write = self.write().await?;
        let some: Vec<WrittenRow> = sql(old).bind(before).bind(AT_ONCE).all(&mut write).await?;
        for WrittenRow { sha256, bytes } in &some {
            if !packs::reference(&mut write, sha256).await? {
                self.objects.remove(Group::Blobs, sha256).await?;
                swept.blobs += 1;
                swept.bytes += u64::try_from(*bytes).unwrap_or_default();
            }
            sql("DELETE FROM written_blobs WHERE sha256 = $1").bind(sha256).execute(&mut write).await?;
        }
        write.commit().await?;
        Ok(some.len())
    }
}
