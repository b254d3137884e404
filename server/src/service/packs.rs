//! Packs: drawn once when issued, kept byte for byte, handed out ever after.

use super::kits::readable_kit;
use super::measurements::one_kit_facts;
use super::states::{self, RevisionState};
use super::stop_sheets::must_not_stop;
use super::{Once, Principal, Service, ServiceError};
use crate::store::Conn;
use crate::store::audit::{self, Act};
use crate::store::downloads::{self, DownloadRow};
use crate::store::kits::KitRow;
use crate::store::packs::{self, PackRow};
use matchmark_core::pack::Paper;
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

/// How often issuing starts again when another pack of the same kit was issued meanwhile.
const ATTEMPTS: usize = 5;

/// A pack to issue.
#[derive(Debug, Clone, Default, Deserialize, Serialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct NewPack {
    /// Paper that the builder prints on; A4 when absent.
    #[serde(default)]
    pub paper: Paper,
}

/// An issued pack.
#[derive(Debug, Clone, Serialize, Deserialize, ToSchema)]
pub struct PackView {
    /// Serial of the kit.
    pub kit: String,
    /// Number of the pack within the kit, from 1.
    pub number: i64,
    /// Id of the design.
    pub design: String,
    /// Letter of the revision.
    pub revision: String,
    /// Paper, `a4` or `letter`.
    pub paper: String,
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
}

impl PackView {
    fn of(row: PackRow, downloads: i64) -> Self {
        Self {
            kit: row.kit,
            number: row.number,
            design: row.design,
            revision: row.revision,
            paper: row.paper,
            sha256: row.sha256,
            size: row.size,
            engine: row.engine,
            issued_at: row.issued_at,
            downloads,
        }
    }
}

/// The file of a pack.
pub struct PackFile {
    /// What it is.
    pub pack: PackView,
    /// The bytes as issued.
    pub bytes: Vec<u8>,
}

impl Service {
    /// Issues a pack for a kit: drawn, kept, then recorded.
    pub async fn issue_pack(
        &self,
        who: &Principal,
        serial: &str,
        new: &NewPack,
        once: &Once,
    ) -> Result<PackView, ServiceError> {
        who.may_support()?;
        let kit = {
            let mut read = self.store.read().await?;
            if let Some(answer) = once.answered(&mut read).await? {
                return Ok(answer);
            }
            let kit = readable_kit(&mut read, who, serial).await?;
            may_issue(&mut read, &kit).await?;
            kit
        };
        let one_kit = self.one_kit(&kit).await?;
        let facts = one_kit_facts(&one_kit);
        let sheets = self.known_sheets(&kit.design, &kit.revision, one_kit).await?;
        for _ in 0..ATTEMPTS {
            let number = {
                let mut read = self.store.read().await?;
                packs::next_number(&mut read, serial).await?
            };
            let stamp = self.clock.stamp();
            let mut issue = sheets.issue(&self.supplier, new.paper, stamp.date());
            issue.kit.clone_from(&kit.serial);
            issue.pack_number = number.to_string();
            issue.kit_facts.clone_from(&facts);
            let bytes = self.engine.pack(sheets.evaluated(), issue).await?;
            let size = i64::try_from(bytes.len()).unwrap_or(i64::MAX);
            let sha256 = self.store.blobs().keep(bytes).await?;

            let mut write = self.store.write().await?;
            if let Some(answer) = once.answered(&mut write).await? {
                return Ok(answer);
            }
            may_issue(&mut write, &kit).await?;
            if packs::next_number(&mut write, serial).await? != number {
                continue;
            }
            let row = PackRow {
                kit: kit.serial.clone(),
                number,
                design: kit.design.clone(),
                revision: kit.revision.clone(),
                paper: paper_name(new.paper).to_owned(),
                sha256,
                size,
                engine: env!("CARGO_PKG_VERSION").to_owned(),
                issued_at: stamp.at().to_owned(),
                issued_by: who.token.clone(),
            };
            packs::insert(&mut write, &row).await?;
            let act = Act {
                at: stamp.at(),
                actor: &who.token,
                action: "issue-pack",
                subject: &format!("kits/{serial}/packs/{number}/{}", row.sha256),
            };
            audit::append(&mut write, act).await?;
            let view = PackView::of(row, 0);
            once.record(&mut write, &view, stamp.at()).await?;
            write.commit().await?;
            return Ok(view);
        }
        Err(ServiceError::Busy)
    }

    /// All packs of a kit, oldest first.
    pub async fn packs(&self, who: &Principal, serial: &str) -> Result<Vec<PackView>, ServiceError> {
        self.downloads.flush().await;
        let mut read = self.store.read().await?;
        readable_kit(&mut read, who, serial).await?;
        let mut views = Vec::new();
        for row in packs::list(&mut read, serial).await? {
            let downloads = downloads::count(&mut read, serial, row.number).await?;
            views.push(PackView::of(row, downloads));
        }
        Ok(views)
    }

    /// One pack; `number` as the caller wrote it.
    pub async fn pack(&self, who: &Principal, serial: &str, number: &str) -> Result<PackView, ServiceError> {
        self.downloads.flush().await;
        let mut read = self.store.read().await?;
        let row = readable_pack(&mut read, who, serial, number).await?;
        let downloads = downloads::count(&mut read, serial, row.number).await?;
        Ok(PackView::of(row, downloads))
    }

    /// The file of a pack, without recording that it was fetched.
    pub async fn pack_file(&self, who: &Principal, serial: &str, number: &str) -> Result<PackFile, ServiceError> {
        let row = {
            let mut read = self.store.read().await?;
            let row = readable_pack(&mut read, who, serial, number).await?;
            must_not_stop(&mut read, serial, &row.revision).await?;
            row
        };
        let bytes = self.store.blobs().read(&row.sha256).await?;
        Ok(PackFile { pack: PackView::of(row, 0), bytes })
    }

    /// Records that a pack was fetched.
    pub async fn record_download(&self, who: &Principal, pack: &PackView) {
        let row = DownloadRow {
            kit: pack.kit.clone(),
            number: pack.number,
            token: who.token.clone(),
            at: self.clock.stamp().at().to_owned(),
        };
        self.downloads.add(row).await;
    }
}

/// No pack of a recalled revision is issued.
async fn may_issue(conn: &mut Conn, kit: &KitRow) -> Result<(), ServiceError> {
    let states = states::of_design(conn, &kit.design).await?;
    if states.of(&kit.revision) == RevisionState::Recalled {
        return Err(ServiceError::IssuesNoPacks(kit.revision.clone()));
    }
    Ok(())
}

async fn readable_pack(conn: &mut Conn, who: &Principal, serial: &str, number: &str) -> Result<PackRow, ServiceError> {
    readable_kit(conn, who, serial).await?;
    let found = match number.parse() {
        Ok(number) => packs::find(conn, serial, number).await?,
        Err(_) => None,
    };
    found.ok_or_else(|| ServiceError::UnknownPack { kit: serial.to_owned(), number: number.to_owned() })
}

fn paper_name(paper: Paper) -> &'static str {
    match paper {
        Paper::A4 => "a4",
        Paper::Letter => "letter",
    }
}
