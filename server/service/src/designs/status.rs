//! The signed status of a design, for whoever asks.

use crate::rules::states::{self, RevisionState};
use crate::{Service, ServiceError};
use matchmark_core::seal::{CurrentRevision, DesignStatus, STATUS_FORMAT, SignedStatus};
use matchmark_store::clock::Stamp;
use matchmark_store::signing_keys::Purpose;
use matchmark_store::{restores, revisions, states as recorded};
use time::Duration;

/// By so much a restore raises the version: more than can have been said since the backup.
const RAISED_BY_RESTORE: usize = 1_000;

/// How long a status is valid.
pub const STATUS_LASTS: Duration = Duration::days(7);

impl Service {
    /// The status of a published design. All that is asked within one hour without a change in between is the same, byte for byte, by
    /// whichever process.
    pub async fn design_status(&self, design: &str) -> Result<SignedStatus, ServiceError> {
        let sealing = self.sealing.as_ref().ok_or(ServiceError::Hidden)?;
        let mut read = self.store.read().await?;
        self.must_sign(&mut read, Purpose::Status).await?;
        let published = revisions::list(&mut read, design).await?;
        let changed = recorded::list(&mut read, design).await?;
        let times = published.iter().map(|row| &row.published_at).chain(changed.iter().map(|row| &row.at));
        // To the public a design that was never published is none.
        let last = times.max().ok_or(ServiceError::Hidden)?.clone();
        let states = states::of_design(&mut read, design).await?;
        let hour = self.clock.stamp().hour();
        let issued = if last > hour { last } else { hour };
        let letters = |wanted: RevisionState| {
            published.iter().map(|row| row.letter.clone()).filter(|letter| states.of(letter) == wanted).collect()
        };
        let restores = usize::try_from(restores::count(&mut read).await?).unwrap_or_default();
        let version = published.len() + changed.len() + restores * RAISED_BY_RESTORE;
        let current = published.iter().find(|row| states.current() == Some(&*row.letter));
        let status = DesignStatus {
            format: STATUS_FORMAT.to_owned(),
            design: design.to_owned(),
            version: u32::try_from(version).unwrap_or(u32::MAX),
            expires: Stamp::said(&issued).after(STATUS_LASTS).at().to_owned(),
            issued,
            current: current.map(|row| CurrentRevision {
                letter: row.letter.clone(),
                document_sha256: row.document_sha256.clone(),
            }),
            withdrawn: letters(RevisionState::Withdrawn),
            recalled: letters(RevisionState::Recalled),
        };
        Ok(SignedStatus::by(&sealing.status_key, status))
    }
}
