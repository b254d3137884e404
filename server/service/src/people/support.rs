//! What support has to know at a telephone: which kit, which revision, what changed since, what is outstanding.

use crate::designs::touched::Counts;
use crate::rules::states;
use crate::words::of_problems;
use crate::{
    ChangeClass, Download, FieldError, HoldView, KitNotice, KitStanding, KitView, MoveView, NoteView, PackView, Page,
    PageStatus, Principal, RevisionView, Service, ServiceError, StopSheet,
};
use matchmark_core::seal::PageStatement;
use matchmark_store::Conn;
use matchmark_store::audit::{self, Act};
use matchmark_store::kits::{self, KitFilter, KitRow};
use serde::Serialize;
use std::collections::BTreeMap;
use utoipa::ToSchema;

/// Most kits answered in full.
const MOST: usize = 5;

/// Most downloads named.
const DOWNLOADS: usize = 50;

/// What was found.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct LookUp {
    /// What is to be said of the page in the caller's hand, when what was asked is the code of one.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub page: Option<PageStatus>,
    /// The kits found, in order of serial; five at most.
    pub kits: Vec<KitAnswer>,
    /// True when there are more: ask for more of the name, or for the serial.
    pub more: bool,
}

/// All that support has to know of a kit.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct KitAnswer {
    /// The kit and its customer.
    pub kit: KitView,
    /// How it stands, in the sentences that its page and the code of its pack say.
    pub standing: KitStanding,
    /// The revision that it has.
    pub revision: RevisionView,
    /// What changed since; absent when it has the newest in force, or when none is.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub since: Option<SinceThen>,
    /// Stop sheets that its holder has not acknowledged: speak of these first.
    pub stop_sheets: Vec<StopSheet>,
    /// The hold on the kit, while one stands: nothing of it is handed out.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub hold: Option<HoldView>,
    /// Notices that are not done.
    pub notices: Vec<KitNotice>,
    /// Its packs, oldest first.
    pub packs: Vec<PackView>,
    /// Who fetched which pack when, newest first; fifty at most.
    pub downloads: Vec<Download>,
    /// The newest measured value of each gauge, mm.
    pub measured: BTreeMap<String, f64>,
    /// How it came to its revision.
    pub moves: Vec<MoveView>,
    /// Notes of the supplier's people.
    pub notes: Vec<NoteView>,
}

/// What changed since the revision of a kit.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct SinceThen {
    /// Letter of the newest revision in force.
    pub current: String,
    /// The kit's parts by what became of them; absent when the newest revision does not have the kit's choices.
    pub counts: Option<Counts>,
    /// Revisions since then, oldest first, whose change was mandatory.
    pub mandatory: Vec<LaterRevision>,
}

/// A revision after that of a kit.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct LaterRevision {
    /// Letter.
    pub letter: String,
    /// What changed and why.
    pub change_note: String,
}

impl Service {
    /// What there is to know for a serial, part of a name or address, an order number, or the text of a scanned code. That a kit
    /// was looked up goes on record.
    pub async fn look_up(&self, who: &Principal, wanted: &str) -> Result<LookUp, ServiceError> {
        who.may_support()?;
        let wanted = wanted.trim();
        if wanted.is_empty() {
            return Err(ServiceError::Invalid(vec![FieldError {
                pointer: "/q".to_owned(),
                detail: of_problems().fields.search().to_owned(),
            }]));
        }
        let page = match PageStatement::claimed(wanted) {
            Ok(_) => Some(self.page_status(wanted).await?),
            Err(_) => None,
        };
        let mut found = {
            let mut read = self.store.read().await?;
            match &page {
                // What is not signed by us says nothing about any kit.
                Some(status) => match &status.page {
                    Some(page) => kits::find(&mut read, &page.kit).await?.into_iter().collect(),
                    None => Vec::new(),
                },
                None => find(&mut read, wanted).await?,
            }
        };
        let more = found.len() > MOST;
        found.truncate(MOST);
        let mut answers = Vec::new();
        for kit in found {
            answers.push(self.answer(who, kit).await?);
        }
        let stamp = self.clock.stamp();
        let mut write = self.store.write().await?;
        for answer in &answers {
            let subject = format!("kits/{}", answer.kit.serial);
            let act = Act { at: stamp.at(), actor: &who.token, action: "look-up-kit", subject: &subject };
            audit::append(&mut write, act).await?;
        }
        write.commit().await?;
        Ok(LookUp { page, kits: answers, more })
    }

    async fn answer(&self, who: &Principal, kit: KitRow) -> Result<KitAnswer, ServiceError> {
        let serial = kit.serial.clone();
        let revision = self.revision(who, &kit.design, &kit.revision).await?;
        let since = self.since_then(who, &kit, revision.number).await?;
        let notices = self.kit_notices(who, &serial).await?;
        let stop_sheets = self.stop_sheets(who, &serial).await?;
        let hold = self.holds(who, &serial).await?.into_iter().find(|hold| hold.lifted_at.is_none());
        let packs = self.packs(who, &serial).await?;
        let downloads = self.downloads(who, &serial, &Page { after: String::new(), limit: DOWNLOADS }).await?.items;
        Ok(KitAnswer {
            standing: self.kit_standing(who, &serial).await?,
            revision,
            since,
            stop_sheets: stop_sheets.into_iter().filter(|sheet| sheet.acknowledged_at.is_none()).collect(),
            hold,
            notices: notices.into_iter().filter(|notice| notice.done_at.is_none()).collect(),
            packs,
            downloads,
            measured: self.one_kit(&kit).await?.measured,
            moves: self.moves(who, &serial).await?,
            notes: self.notes(who, &serial).await?,
            kit: kit.into(),
        })
    }

    async fn since_then(&self, who: &Principal, kit: &KitRow, number: i64) -> Result<Option<SinceThen>, ServiceError> {
        let current = {
            let mut read = self.store.read().await?;
            states::of_design(&mut read, &kit.design).await?.current().map(str::to_owned)
        };
        let Some(current) = current.filter(|current| *current != kit.revision) else {
            return Ok(None);
        };
        let changes = self.compare(&kit.design, &kit.revision, &current, &kit.choices).await?;
        let later = self
            .revisions(who, &kit.design)
            .await?
            .into_iter()
            .filter(|revision| revision.number > number && revision.class == Some(ChangeClass::Mandatory));
        Ok(Some(SinceThen {
            current,
            counts: changes.as_deref().map(Counts::of),
            mandatory: later
                .map(|revision| LaterRevision { letter: revision.letter, change_note: revision.change_note })
                .collect(),
        }))
    }
}

/// The kits meant: those whose serial stands in the text, else those of the order, else those of such customers or serials.
async fn find(conn: &mut Conn, wanted: &str) -> Result<Vec<KitRow>, ServiceError> {
    let mut found = Vec::new();
    let is_serial = |c: char| c.is_ascii_alphanumeric() || c == '-';
    for word in wanted.split(|c| !is_serial(c)).filter(|word| !word.is_empty()).take(20) {
        if let Some(kit) = kits::find(conn, &word.to_ascii_uppercase()).await? {
            found.push(kit);
        }
    }
    let by_order = KitFilter { order_number: Some(wanted.to_owned()), ..KitFilter::default() };
    let by_customer = KitFilter { customer: Some(wanted.to_owned()), ..KitFilter::default() };
    let by_beginning = KitFilter { serial_prefix: wanted.to_ascii_uppercase(), ..KitFilter::default() };
    for filter in [by_order, by_customer, by_beginning] {
        if found.is_empty() {
            found = kits::list(conn, &filter, "", i64::try_from(MOST + 1).unwrap_or(i64::MAX)).await?;
        }
    }
    found.sort_by(|a, b| a.serial.cmp(&b.serial));
    found.dedup_by(|a, b| a.serial == b.serial);
    Ok(found)
}
