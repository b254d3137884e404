//! Packs as they are kept: byte for byte as issued, handed out ever after.

use crate::rules::drawn_with::{is_void, print_of};
use crate::rules::lookup::readable_kit;
use crate::rules::number::number as written;
use crate::rules::release::must_be_open;
use crate::rules::standing::words::said;
use crate::rules::standing::{PackStanding, PackState, Standings};
use crate::words::Words;
use crate::{Principal, Service, ServiceError};
use matchmark_core::pack::Print;
use matchmark_store::downloads::{self, DownloadRow};
use matchmark_store::kits::{self, KitRow};
use matchmark_store::pack_numbers;
use matchmark_store::packs::{self, PackRow};
use serde::Serialize;
use utoipa::ToSchema;

/// An issued pack.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct PackView {
    /// Serial of the kit.
    pub kit: String,
    /// Number of the pack within the kit, from 1.
    pub number: i64,
    /// Id of the design.
    pub design: String,
    /// Letter of the revision.
    pub revision: String,
    /// Whether it is still right.
    pub state: PackState,
    /// That in sentences which say what to do; the same that the code on its pages leads to.
    pub words: String,
    /// Paper: `a4`, `a3`, `letter`, `tabloid` or `roll`.
    pub paper: String,
    /// How it is printed.
    pub print: Print,
    /// Number of pages; 0 for a pack from before they were counted.
    pub pages: i64,
    /// Letter of the revision of the kit's pack before, where it was another: the pack lists what changed since.
    pub since_revision: Option<String>,
    /// True when it holds only what changed since then.
    pub only_changes: bool,
    /// SHA-256 of the file.
    pub sha256: String,
    /// Size of the file in bytes.
    pub size: i64,
    /// Version of the engine that drew it.
    pub engine: String,
    /// When it was issued, RFC 3339 in UTC.
    pub issued_at: String,
    /// How often it was fetched.
    pub downloads: i64,
    /// Number of the pack that takes its place, of the revision that the kit has. One of the other hand takes no place where nothing
    /// changed meanwhile.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub superseded_by: Option<i64>,
}

impl PackView {
    fn of(row: &PackRow, standings: &Standings, downloads: i64, words: &Words) -> Self {
        let PackStanding { state, facts } = standings.of_pack(row);
        Self {
            print: print_of(row),
            kit: row.kit.clone(),
            number: row.number,
            design: row.design.clone(),
            revision: row.revision.clone(),
            state,
            words: said(words, &facts),
            paper: row.paper.clone(),
            pages: row.pages,
            since_revision: Some(row.since_revision.clone()).filter(|letter| !letter.is_empty()),
            only_changes: row.only_changes != 0,
            sha256: row.sha256.clone(),
            size: row.size,
            engine: row.engine.clone(),
            issued_at: row.issued_at.clone(),
            downloads,
            superseded_by: standings.superseded_by(row),
        }
    }
}

/// A number that no pack has: the issue it was taken for failed. It is never used again.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct VoidNumber {
    /// The number.
    pub number: i64,
    /// Since when it is void, RFC 3339 in UTC.
    pub at: String,
    /// That in a sentence.
    pub words: String,
}

/// The file of a pack.
pub struct PackFile {
    /// Serial of the kit.
    pub kit: String,
    /// Number of the pack.
    pub number: i64,
    /// Id of the design.
    pub design: String,
    /// Letter of the revision.
    pub revision: String,
    /// SHA-256 of the bytes.
    pub sha256: String,
    /// The bytes as issued.
    pub bytes: Vec<u8>,
}

impl Service {
    /// All packs of a kit, oldest first.
    pub async fn packs(&self, who: &Principal, serial: &str) -> Result<Vec<PackView>, ServiceError> {
        self.downloads.flush().await;
        let mut read = self.store.read().await?;
        let kit = readable_kit(&mut read, who, serial).await?;
        let standings = Standings::read(&mut read, kit).await?;
        let mut views = Vec::new();
        for row in standings.packs() {
            let downloads = downloads::count(&mut read, serial, row.number).await?;
            views.push(PackView::of(row, &standings, downloads, self.words));
        }
        Ok(views)
    }

    /// The numbers of a kit that no pack has and none will have, in order.
    pub async fn void_packs(&self, who: &Principal, serial: &str) -> Result<Vec<VoidNumber>, ServiceError> {
        let mut read = self.store.read().await?;
        readable_kit(&mut read, who, serial).await?;
        let rows = pack_numbers::void(&mut read, serial, self.clock.stamp().at()).await?;
        Ok(rows
            .into_iter()
            .map(|row| VoidNumber {
                words: self.words.standing.void(row.number, serial),
                number: row.number,
                at: row.at,
            })
            .collect())
    }

    /// One pack; `number` as the caller wrote it.
    pub async fn pack(&self, who: &Principal, serial: &str, number: &str) -> Result<PackView, ServiceError> {
        self.downloads.flush().await;
        let (_, row) = self.readable_pack(who, serial, number).await?;
        self.pack_now(serial, row.number).await
    }

    /// A pack of a kit as both stand now.
    pub(crate) async fn pack_now(&self, serial: &str, number: i64) -> Result<PackView, ServiceError> {
        let gone = ServiceError::Inconsistent("a recorded pack is gone");
        let mut read = self.store.read().await?;
        let downloads = downloads::count(&mut read, serial, number).await?;
        let Some(kit) = kits::find(&mut read, serial).await? else { return Err(gone) };
        let standings = Standings::read(&mut read, kit).await?;
        let row = standings.packs().find(|row| row.number == number).ok_or(gone)?;
        Ok(PackView::of(row, &standings, downloads, self.words))
    }

    /// The file of a pack, without recording that it was fetched.
    pub async fn pack_file(&self, who: &Principal, serial: &str, number: &str) -> Result<PackFile, ServiceError> {
        let row = self.open_pack(who, serial, number).await?;
        let bytes = self.store.blobs().read(&row.sha256).await?;
        let PackRow { kit, number, design, revision, sha256, .. } = row;
        Ok(PackFile { kit, number, design, revision, sha256, bytes })
    }

    /// The account of a pack: every page with its hash, its code and all that is printed on it, as JSON.
    pub async fn pack_manifest(&self, who: &Principal, serial: &str, number: &str) -> Result<Vec<u8>, ServiceError> {
        let row = self.open_pack(who, serial, number).await?;
        if row.manifest_sha256.is_empty() {
            return Err(ServiceError::UnknownPack { kit: serial.to_owned(), number: number.to_owned() });
        }
        Ok(self.store.blobs().read(&row.manifest_sha256).await?)
    }

    /// A pack that may be handed out.
    async fn open_pack(&self, who: &Principal, serial: &str, number: &str) -> Result<PackRow, ServiceError> {
        let (kit, row) = self.readable_pack(who, serial, number).await?;
        let mut read = self.store.read().await?;
        must_be_open(&mut read, who, &kit, &row.revision).await?;
        Ok(row)
    }

    /// Records that a pack was fetched.
    pub async fn record_download(&self, who: &Principal, pack: &PackFile) {
        let row = DownloadRow {
            kit: pack.kit.clone(),
            number: pack.number,
            token: who.token.clone(),
            at: self.clock.stamp().at().to_owned(),
        };
        self.downloads.add(row).await;
        self.metrics.pack_fetched();
    }

    /// Whether this caller has a download of a pack on record, so that asking for the rest of it is none of its own.
    pub async fn has_fetched(&self, who: &Principal, pack: &PackFile) -> Result<bool, ServiceError> {
        self.downloads.flush().await;
        let mut read = self.store.read().await?;
        Ok(downloads::has_any(&mut read, &pack.kit, pack.number, &who.token).await?)
    }

    /// A pack of a kit that this caller may read.
    async fn readable_pack(
        &self,
        who: &Principal,
        serial: &str,
        number: &str,
    ) -> Result<(KitRow, PackRow), ServiceError> {
        let mut read = self.store.read().await?;
        let kit = readable_kit(&mut read, who, serial).await?;
        let unknown = || ServiceError::UnknownPack { kit: serial.to_owned(), number: number.to_owned() };
        let wanted = written(number).ok_or_else(unknown)?;
        match packs::find(&mut read, serial, wanted).await? {
            Some(pack) => Ok((kit, pack)),
            None if is_void(&mut read, serial, wanted, self.clock.stamp().at()).await? => {
                Err(ServiceError::VoidPack { kit: serial.to_owned(), pack: wanted })
            }
            None => Err(unknown()),
        }
    }
}
