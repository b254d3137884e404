//! What a restore of an older backup puts on record: numbers and letters that may have been given out since are never given again.

use crate::ServiceError;
use matchmark_store::audit::{self, Act};
use matchmark_store::clock::Clock;
use matchmark_store::{Store, restores};

/// So many letters are left out: one round of those that are used, so that what would have been C becomes AC.
const LETTERS: i64 = 20;

/// Puts a restore on record with what it leaves out: for each kit the numbers of packs up to a full hundred, for each design a
/// round of letters, and the numbers of notices up to a full hundred.
pub async fn record_restore(store: &Store, clock: &dyn Clock, taken_at: &str) -> Result<(), ServiceError> {
    let stamp = clock.stamp();
    let mut write = store.write().await?;
    let subject = format!("backups/{taken_at}");
    let act = Act { at: stamp.at(), actor: "system", action: "restore-backup", subject: &subject };
    audit::append(&mut write, act).await?;
    let number = restores::insert(&mut write, stamp.at(), taken_at).await?;
    restores::skip_packs(&mut write, number).await?;
    restores::skip_revisions(&mut write, number, LETTERS).await?;
    restores::skip_notices(&mut write, number).await?;
    Ok(write.commit().await?)
}
