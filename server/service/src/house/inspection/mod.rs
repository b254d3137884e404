//! Whether all that is kept is as it was when it was kept: every link of every chain, every row that is on record, every pack and
//! its bytes.

mod acts;
mod gaps;
mod rows;
use crate::ServiceError;
use crate::rules::letter::letter;
use crate::rules::publication::link;
use gaps::Gaps;
use matchmark_core::document::Canonical;
use matchmark_store::full_scan::{self, PackBytesRow};
use matchmark_store::pack_numbers::{self, GivenRow};
use matchmark_store::restores::{self, Numbered, SkipRow};
use matchmark_store::{Blobs, Conn, StoreError, revisions, snapshot};
use std::collections::BTreeSet;

/// What was looked at and what is wrong.
#[derive(Debug, Default)]
pub struct Inspection {
    /// How many revisions.
    pub revisions: usize,
    /// How many packs.
    pub packs: usize,
    /// How many acts in the audit log.
    pub acts: i64,
    /// In how many chains.
    pub chains: usize,
    /// How many checkpoints join them.
    pub checkpoints: i64,
    /// Hash of the last one. Whoever kept an earlier one can see that it is still in the chain of checkpoints.
    pub last_checkpoint: String,
    /// What is to be known of all this, a sentence each.
    pub notes: Vec<String>,
    /// What is wrong, a sentence each; nothing when all is well.
    pub faults: Vec<String>,
}

/// Looks at everything that the connection sees, and at the blobs.
pub async fn inspect(conn: &mut Conn, blobs: &Blobs) -> Result<Inspection, ServiceError> {
    snapshot::hold(conn).await?;
    let mut found = Inspection { faults: snapshot::damage(conn).await?, ..Inspection::default() };
    found.inspect_revisions(conn).await?;
    let said = found.inspect_acts(conn).await?;
    let packs = full_scan::packs(conn).await?;
    let without = pack_numbers::all(conn).await?;
    let gaps = Gaps::of(restores::of_kits(conn).await?);
    found.inspect_packs(&packs, &without, &gaps, &said.issued);
    found.note_gaps(conn).await?;
    found.inspect_rows(conn, said).await?;
    match blobs.must_be_of(conn).await {
        Err(error @ StoreError::OtherStore { .. }) => found.faults.push(error.to_string()),
        done => done?,
    }
    found.inspect_blobs(&packs, blobs).await?;
    Ok(found)
}

impl Inspection {
    async fn inspect_revisions(&mut self, conn: &mut Conn) -> Result<(), ServiceError> {
        let gaps = Gaps::of(restores::of_designs(conn, Numbered::Revision).await?);
        let (mut design, mut number, mut chain) = (String::new(), 0, String::new());
        for row in full_scan::revisions(conn).await? {
            self.revisions += 1;
            if row.design != design {
                (design, number, chain) = (row.design.clone(), 0, String::new());
            }
            number = gaps.next(&design, number);
            let place = format!("revision {} of design {design}", row.letter);
            let document = revisions::document(conn, &design, &row.letter).await?.unwrap_or_default();
            let value = serde_json::from_str(&document).ok();
            let hash = value.and_then(|value| Canonical::of(&value)).map(|canonical| canonical.sha256);
            let date = row.published_at.get(..10).unwrap_or_default();
            let expected = letter(u32::try_from(number).unwrap_or(u32::MAX));
            self.require(row.number == number && row.letter == expected, || format!("{place} is out of order"));
            self.require(hash.as_ref() == Some(&row.document_sha256), || {
                format!("the document of {place} was changed")
            });
            self.require(row.previous_chain == chain, || format!("{place} does not follow the one before it"));
            let made = link(&row.previous_chain, &row.letter, &row.document_sha256, date);
            self.require(row.chain == made, || format!("{place} was changed"));
            chain = row.chain;
        }
        Ok(())
    }

    /// Counts what restores left out.
    async fn note_gaps(&mut self, conn: &mut Conn) -> Result<(), ServiceError> {
        let count = |rows: &[SkipRow]| rows.iter().map(|row| row.last - row.first + 1).sum::<i64>();
        let packs = count(&restores::of_kits(conn).await?);
        let letters = count(&restores::of_designs(conn, Numbered::Revision).await?);
        let notices = count(&restores::of_designs(conn, Numbered::Notice).await?);
        if packs + letters + notices > 0 {
            self.notes.push(format!(
                "left out, most of them by restores: {packs} numbers of packs, {letters} letters of revisions and {notices} numbers of notices"
            ));
        }
        Ok(())
    }

    /// Packs and the numbers without one follow each other without a gap but those that a restore left.
    fn inspect_packs(&mut self, packs: &[PackBytesRow], without: &[GivenRow], gaps: &Gaps, issued: &BTreeSet<String>) {
        self.packs += packs.len();
        let said = |pack: &PackBytesRow| format!("kits/{}/packs/{}/{}", pack.kit, pack.number, pack.sha256);
        let void = |row: &GivenRow| row.is_void.then(|| format!("kits/{}/packs/{}", row.kit, row.number));
        let mut given: Vec<(&str, i64, Option<String>)> =
            packs.iter().map(|pack| (pack.kit.as_str(), pack.number, Some(said(pack)))).collect();
        given.extend(without.iter().map(|row| (row.kit.as_str(), row.number, void(row))));
        given.sort();
        let (mut kit, mut number) = ("", 0);
        for (of, own, subject) in given {
            if of != kit {
                (kit, number) = (of, 0);
            }
            number = gaps.next(kit, number);
            let place = format!("pack {own} of kit {kit}");
            self.require(own == number, || format!("{place} is out of order"));
            let is_said = subject.is_none_or(|subject| issued.contains(&subject));
            self.require(is_said, || format!("{place} does not match the audit log"));
        }
    }

    async fn inspect_blobs(&mut self, packs: &[PackBytesRow], blobs: &Blobs) -> Result<(), ServiceError> {
        for pack in packs {
            let of = format!("of pack {} of kit {}", pack.number, pack.kit);
            if let Some(bytes) = self.inspect_blob(&pack.sha256, &format!("the file {of}"), blobs).await? {
                let size = i64::try_from(bytes.len()).unwrap_or(i64::MAX);
                self.require(size == pack.size, || format!("the file {of} has another size"));
            }
            if !pack.manifest_sha256.is_empty() {
                self.inspect_blob(&pack.manifest_sha256, &format!("the account {of}"), blobs).await?;
            }
        }
        Ok(())
    }

    /// The bytes, if they are there and have their hash.
    async fn inspect_blob(&mut self, hash: &str, what: &str, blobs: &Blobs) -> Result<Option<Vec<u8>>, ServiceError> {
        match blobs.read(hash).await {
            Ok(bytes) => Ok(Some(bytes)),
            Err(StoreError::Damaged(_)) => {
                self.faults.push(format!("{what}, blob {hash}, is missing or damaged"));
                Ok(None)
            }
            Err(error) => Err(error.into()),
        }
    }

    fn require(&mut self, holds: bool, fault: impl FnOnce() -> String) {
        if !holds {
            self.faults.push(fault());
        }
    }
}
