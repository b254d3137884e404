//! Whether all that is kept is as it was when it was kept: every link of every chain, every pack and its bytes.

use super::ServiceError;
use super::letter::letter;
use super::publish::link;
use crate::store::audit::{self, Act};
use crate::store::pack_numbers::{self, GivenRow};
use crate::store::survey::{self, ActRow, PackBytesRow};
use crate::store::{Blobs, Conn, StoreError, revisions, snapshot};
use matchmark_core::document::Canonical;
use std::collections::BTreeSet;

/// How many acts are read at once.
const AT_ONCE: i64 = 10_000;

/// What was looked at and what is wrong.
#[derive(Debug, Default)]
pub struct Inspection {
    /// How many revisions.
    pub revisions: usize,
    /// How many packs.
    pub packs: usize,
    /// How many acts in the audit log.
    pub acts: i64,
    /// Hash of the last act. Whoever kept an earlier one can see that it is still in the chain.
    pub last_act: String,
    /// What is wrong, a sentence each; nothing when all is well.
    pub faults: Vec<String>,
}

/// Looks at everything that the connection sees, and at the blobs.
pub async fn inspect(conn: &mut Conn, blobs: &Blobs) -> Result<Inspection, ServiceError> {
    snapshot::hold(conn).await?;
    let mut found = Inspection { faults: snapshot::damage(conn).await?, ..Inspection::default() };
    found.inspect_revisions(conn).await?;
    let issued = found.inspect_acts(conn).await?;
    let packs = survey::packs(conn).await?;
    let without = pack_numbers::all(conn).await?;
    found.inspect_packs(&packs, &without, &issued);
    found.inspect_blobs(&packs, blobs).await?;
    Ok(found)
}

impl Inspection {
    async fn inspect_revisions(&mut self, conn: &mut Conn) -> Result<(), ServiceError> {
        let (mut design, mut number, mut chain) = (String::new(), 0, String::new());
        for row in survey::revisions(conn).await? {
            self.revisions += 1;
            if row.design != design {
                (design, number, chain) = (row.design.clone(), 0, String::new());
            }
            number += 1;
            let place = format!("revision {} of design {design}", row.letter);
            let document = revisions::document(conn, &design, &row.letter).await?.unwrap_or_default();
            let value = serde_json::from_str(&document).ok();
            let hash = value.and_then(|value| Canonical::of(&value)).map(|canonical| canonical.sha256);
            let date = row.published_at.get(..10).unwrap_or_default();
            let expected = letter(u32::try_from(number).unwrap_or(u32::MAX));
            self.require(row.number == number && row.letter == expected, || {
                format!("{place} is not the next in order")
            });
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

    /// The subjects of all acts that issued a pack or made its number void.
    async fn inspect_acts(&mut self, conn: &mut Conn) -> Result<BTreeSet<String>, ServiceError> {
        let mut issued = BTreeSet::new();
        loop {
            let rows = survey::acts(conn, self.acts, AT_ONCE).await?;
            if rows.is_empty() {
                return Ok(issued);
            }
            for row in rows {
                self.inspect_act(&row);
                self.acts = row.number;
                self.last_act = row.hash;
                if row.action == "issue-pack" || row.action == "void-pack" {
                    issued.insert(row.subject);
                }
            }
        }
    }

    fn inspect_act(&mut self, row: &ActRow) {
        let number = row.number;
        let follows = number == self.acts + 1 && row.previous == self.last_act;
        self.require(follows, || format!("act {number} does not follow the one before it"));
        let act = Act { at: &row.at, actor: &row.actor, action: &row.action, subject: &row.subject };
        self.require(row.hash == audit::link(&row.previous, number, act), || format!("act {number} was changed"));
    }

    /// Packs and the numbers without one follow each other without a gap.
    fn inspect_packs(&mut self, packs: &[PackBytesRow], without: &[GivenRow], issued: &BTreeSet<String>) {
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
            number += 1;
            let place = format!("pack {own} of kit {kit}");
            self.require(own == number, || format!("{place} is not the next in order"));
            let is_said = subject.is_none_or(|subject| issued.contains(&subject));
            self.require(is_said, || format!("{place} is not in the audit log as it is kept"));
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
