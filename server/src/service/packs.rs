//! Packs: drawn once when issued, kept byte for byte, handed out ever after.

use super::holds::{must_be_open, must_not_be_held};
use super::kits::readable_kit;
use super::measurements::one_kit_facts;
use super::sheets::RevisionSheets;
use super::states::{self, RevisionState};
use super::told::Told;
use super::{FieldError, Once, Principal, Service, ServiceError};
use crate::store::Conn;
use crate::store::audit::{self, Act};
use crate::store::downloads::{self, DownloadRow};
use crate::store::kits::KitRow;
use crate::store::measurements;
use crate::store::packs::{self, PackRow};
use matchmark_core::document::OneKit;
use matchmark_core::pack::{CheckBars, Hands, Paper, Print, Since, Units};
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

/// How often issuing starts again when another pack of the same kit was issued meanwhile, or its blobs were swept away.
const ATTEMPTS: usize = 5;

/// A pack to issue. What is absent is as in the kit's last pack; in its first pack A4, common office paper, true check bars.
#[derive(Debug, Clone, Default, Deserialize, Serialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(example = json!({"paper": "letter", "check_bars": {"across": 99.2, "up": 99.6}}))]
pub struct NewPack {
    /// Paper that the builder prints on.
    #[serde(default)]
    pub paper: Option<Paper>,
    /// Thickness of the paper that wraps are printed on, mm, 0 to 0.5.
    #[serde(default)]
    pub paper_thickness: Option<f64>,
    /// What the two check bars of an earlier print measured: in a pack in millimetres each 90 to 110, in one in inches 3.6 to 4.4.
    #[serde(default)]
    pub check_bars: Option<CheckBars>,
    /// In which unit lengths are written: `mm`, `inch` or `inch-fraction`.
    #[serde(default)]
    pub units: Option<Units>,
    /// Whose wraps, plates and hole strips are printed: `both`, `left` or `right`; those of parts of neither hand always are. The
    /// first pack of another revision has both again when nothing is said.
    #[serde(default)]
    pub hands: Option<Hands>,
    /// Only what changed since the kit's last pack, to go with that one. The kit must have been moved to another revision since.
    #[serde(default)]
    pub only_changes: bool,
}

impl NewPack {
    /// How it is printed for a kit of a revision, after the print of the kit's last pack.
    pub(super) fn print(&self, last: Option<&PackRow>, revision: &str) -> Result<Print, ServiceError> {
        let before = last.map(print_of).unwrap_or_default();
        // Of another revision nobody has the other hand yet.
        let known_hands = last.filter(|last| last.revision == revision).map(|_| before.hands);
        let units = self.units.unwrap_or(before.units);
        // Bars measured in another unit say nothing here.
        let known_bars = before.check_bars.filter(|_| before.units.true_bar() == units.true_bar());
        if self.only_changes && self.hands.is_some_and(|hands| hands != Hands::Both) {
            return Err(ServiceError::Invalid(vec![FieldError {
                pointer: "/hands".to_owned(),
                detail: "A pack of what changed holds both hands. Leave `hands` out, or issue a whole pack.".to_owned(),
            }]));
        }
        let print = Print {
            units,
            paper: self.paper.unwrap_or(before.paper),
            paper_thickness: self.paper_thickness.unwrap_or(before.paper_thickness),
            check_bars: self.check_bars.or(known_bars),
            hands: self.hands.or(known_hands).unwrap_or_default(),
        };
        print.check().map_err(|error| {
            ServiceError::Invalid(vec![FieldError { pointer: error.pointer().to_owned(), detail: error.to_string() }])
        })?;
        Ok(print)
    }
}

/// How a pack is printed; one from before that was kept, as by default.
pub(super) fn print_of(row: &PackRow) -> Print {
    serde_json::from_str(&row.print).unwrap_or_default()
}

/// Whether a pack is still right.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "lowercase")]
pub enum PackState {
    /// It is the last one of its kit, or one of the other hand that goes with that.
    #[default]
    Current,
    /// A later pack was issued for its kit, or the kit was moved to another revision.
    Superseded,
    /// Its revision was withdrawn: no more kits are sold with it.
    Withdrawn,
    /// Its revision was recalled: nobody goes on with it before having read the stop sheet.
    Recalled,
}

impl PackState {
    /// The state of a pack whose revision stands so; `replaced` when a later pack takes its place or its kit has another revision.
    pub(super) fn of(revision: RevisionState, replaced: bool) -> Self {
        match revision {
            RevisionState::Recalled => Self::Recalled,
            _ if replaced => Self::Superseded,
            RevisionState::Withdrawn => Self::Withdrawn,
            RevisionState::Published | RevisionState::Superseded => Self::Current,
        }
    }
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
    /// Whether it is still right.
    #[serde(default)]
    pub state: PackState,
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
    /// Number of the later pack that takes its place. One of the other hand takes no place where nothing changed meanwhile.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub superseded_by: Option<i64>,
}

impl PackView {
    fn of(row: PackRow, downloads: i64) -> Self {
        Self {
            print: print_of(&row),
            kit: row.kit,
            number: row.number,
            design: row.design,
            revision: row.revision,
            state: PackState::default(),
            paper: row.paper,
            pages: row.pages,
            since_revision: Some(row.since_revision).filter(|letter| !letter.is_empty()),
            only_changes: row.only_changes != 0,
            sha256: row.sha256,
            size: row.size,
            engine: row.engine,
            issued_at: row.issued_at,
            downloads,
            superseded_by: None,
        }
    }
}

/// The number of the pack that takes the place of one, among all packs of a kit and the days on which something of it was measured.
/// A pack of one hand is kept beside one of the other, of the same revision and the same measured values.
pub(super) fn superseded_by(pack: &PackRow, all: &[PackRow], measured_at: &[String]) -> Option<i64> {
    let goes_with = |later: &PackRow| {
        let (hands, other) = (print_of(pack).hands, print_of(later).hands);
        let measured = measured_at.iter().any(|at| (&pack.issued_at..=&later.issued_at).contains(&at));
        hands != Hands::Both && other == hands.other() && later.revision == pack.revision && !measured
    };
    all.iter().filter(|later| later.number > pack.number && !goes_with(later)).map(|later| later.number).max()
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
        let _turn = once.turn(&self.in_flight).await;
        let (kit, last, told) = {
            let mut read = self.store.read().await?;
            if let Some(answer) = once.answered(&mut read).await? {
                return Ok(answer);
            }
            let kit = readable_kit(&mut read, who, serial).await?;
            may_issue(&mut read, &kit).await?;
            let last = packs::last(&mut read, serial).await?;
            let told = Told::of(&mut read, &kit).await?;
            (kit, last, told)
        };
        let print = new.print(last.as_ref(), &kit.revision)?;
        let one_kit = self.one_kit(&kit).await?;
        let facts = one_kit_facts(&one_kit);
        let sheets = self.known_sheets(&kit.design, &kit.revision, one_kit.clone()).await?;
        let since = self.since(last.as_ref(), &kit.revision, one_kit, &sheets, new.only_changes).await?;
        for _ in 0..ATTEMPTS {
            let number = {
                let mut read = self.store.read().await?;
                packs::next_number(&mut read, serial).await?
            };
            let stamp = self.clock.stamp();
            let mut issue = sheets.issue(&self.supplier, print, stamp.date());
            issue.kit.clone_from(&kit.serial);
            issue.pack_number = number.to_string();
            issue.kit_facts.clone_from(&facts);
            issue.seal = self.seal(&kit.design);
            issue.since.clone_from(&since);
            told.put(&mut issue);
            let pack = self.engine.pack(sheets.evaluated(), issue).await?;
            let size = i64::try_from(pack.pdf.len()).unwrap_or(i64::MAX);
            let pages = i64::try_from(pack.manifest.pages.len()).unwrap_or(i64::MAX);
            let manifest = serde_json::to_vec(&pack.manifest)
                .map_err(|_| ServiceError::Inconsistent("the account of a pack cannot be written"))?;
            let manifest_sha256 = self.store.blobs().keep(manifest).await?;
            let sha256 = self.store.blobs().keep(pack.pdf).await?;

            let mut write = self.store.write().await?;
            if let Some(answer) = once.answered(&mut write).await? {
                return Ok(answer);
            }
            may_issue(&mut write, &kit).await?;
            let blobs = self.store.blobs();
            let kept = blobs.has(&sha256).await? && blobs.has(&manifest_sha256).await?;
            // Without its blobs a sweep came between: see `store::sweep`.
            if packs::next_number(&mut write, serial).await? != number || !kept {
                continue;
            }
            let row = PackRow {
                kit: kit.serial.clone(),
                number,
                design: kit.design.clone(),
                revision: kit.revision.clone(),
                paper: print.paper.name().to_owned(),
                sha256,
                size,
                engine: env!("CARGO_PKG_VERSION").to_owned(),
                issued_at: stamp.at().to_owned(),
                issued_by: who.token.clone(),
                print: serde_json::to_string(&print).unwrap_or_default(),
                pages,
                manifest_sha256,
                since_revision: since.as_ref().map(|since| since.revision.clone()).unwrap_or_default(),
                only_changes: i64::from(new.only_changes),
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
            self.metrics.pack_issued();
            return Ok(view);
        }
        Err(ServiceError::Busy)
    }

    /// All packs of a kit, oldest first.
    pub async fn packs(&self, who: &Principal, serial: &str) -> Result<Vec<PackView>, ServiceError> {
        self.downloads.flush().await;
        let mut read = self.store.read().await?;
        let kit = readable_kit(&mut read, who, serial).await?;
        let mut views = Vec::new();
        let measured_at = measured_at(&mut read, serial).await?;
        let states = states::of_design(&mut read, &kit.design).await?;
        let rows = packs::list(&mut read, serial).await?;
        let successors: Vec<_> = rows.iter().map(|row| superseded_by(row, &rows, &measured_at)).collect();
        for (row, superseded_by) in rows.into_iter().zip(successors) {
            let replaced = superseded_by.is_some() || row.revision != kit.revision;
            let state = PackState::of(states.of(&row.revision), replaced);
            let downloads = downloads::count(&mut read, serial, row.number).await?;
            views.push(PackView { state, superseded_by, ..PackView::of(row, downloads) });
        }
        Ok(views)
    }

    /// One pack; `number` as the caller wrote it.
    pub async fn pack(&self, who: &Principal, serial: &str, number: &str) -> Result<PackView, ServiceError> {
        let packs = self.packs(who, serial).await?;
        let wanted: Option<i64> = number.parse().ok();
        let found = packs.into_iter().find(|pack| Some(pack.number) == wanted);
        found.ok_or_else(|| ServiceError::UnknownPack { kit: serial.to_owned(), number: number.to_owned() })
    }

    /// The file of a pack, without recording that it was fetched.
    pub async fn pack_file(&self, who: &Principal, serial: &str, number: &str) -> Result<PackFile, ServiceError> {
        let row = {
            let mut read = self.store.read().await?;
            let (kit, row) = readable_pack(&mut read, who, serial, number).await?;
            must_be_open(&mut read, &kit, &row.revision).await?;
            row
        };
        let bytes = self.store.blobs().read(&row.sha256).await?;
        Ok(PackFile { pack: PackView::of(row, 0), bytes })
    }

    /// The account of a pack: every page with its hash, its code and all that is printed on it, as JSON.
    pub async fn pack_manifest(&self, who: &Principal, serial: &str, number: &str) -> Result<Vec<u8>, ServiceError> {
        let row = {
            let mut read = self.store.read().await?;
            let (kit, row) = readable_pack(&mut read, who, serial, number).await?;
            must_be_open(&mut read, &kit, &row.revision).await?;
            row
        };
        if row.manifest_sha256.is_empty() {
            return Err(ServiceError::UnknownPack { kit: serial.to_owned(), number: number.to_owned() });
        }
        Ok(self.store.blobs().read(&row.manifest_sha256).await?)
    }

    /// What changed since the last pack of a kit that has been moved to another revision.
    async fn since(
        &self,
        last: Option<&PackRow>,
        revision: &str,
        kit: OneKit,
        sheets: &RevisionSheets,
        only: bool,
    ) -> Result<Option<Since>, ServiceError> {
        let Some(last) = last.filter(|last| last.revision != revision) else {
            if only {
                return Err(ServiceError::Invalid(vec![FieldError {
                    pointer: "/only_changes".to_owned(),
                    detail: "The kit's last pack is of this revision, or there is none: nothing changed since. Issue a whole pack."
                        .to_owned(),
                }]));
            }
            return Ok(None);
        };
        // What the pack before holds is drawn with what was measured until then.
        let kit = self.kit_at(last, kit).await?;
        let before = self.known_sheets(&last.design, &last.revision, kit).await?;
        let changes = self.engine.changes(before.evaluated(), sheets.evaluated()).await?;
        let pages = if only {
            let mut read = self.store.read().await?;
            let packs = packs::list(&mut read, &last.kit).await?;
            drop(read);
            self.pages_before(last, &packs).await?
        } else {
            Vec::new()
        };
        Ok(changes.map(|changes| Since {
            revision: last.revision.clone(),
            pack_number: last.number.to_string(),
            changes,
            only,
            pages,
        }))
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
        self.metrics.pack_fetched();
    }
}

/// No pack of a recalled revision is issued, nor one for a kit on hold.
async fn may_issue(conn: &mut Conn, kit: &KitRow) -> Result<(), ServiceError> {
    let states = states::of_design(conn, &kit.design).await?;
    if states.of(&kit.revision) == RevisionState::Recalled {
        return Err(ServiceError::IssuesNoPacks(kit.revision.clone()));
    }
    must_not_be_held(conn, kit).await
}

/// When something of a kit was measured.
pub(super) async fn measured_at(conn: &mut Conn, serial: &str) -> Result<Vec<String>, ServiceError> {
    Ok(measurements::list(conn, serial).await?.into_iter().map(|value| value.at).collect())
}

async fn readable_pack(
    conn: &mut Conn,
    who: &Principal,
    serial: &str,
    number: &str,
) -> Result<(KitRow, PackRow), ServiceError> {
    let kit = readable_kit(conn, who, serial).await?;
    let found = match number.parse() {
        Ok(number) => packs::find(conn, serial, number).await?,
        Err(_) => None,
    };
    let pack = found.ok_or_else(|| ServiceError::UnknownPack { kit: serial.to_owned(), number: number.to_owned() })?;
    Ok((kit, pack))
}
