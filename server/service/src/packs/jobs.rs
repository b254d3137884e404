//! Jobs that issue a pack for every kit of a revision: asked for, watched and cancelled here. [`super::pack_job_work`] does the
//! work.

use crate::packs::job_faults;
use crate::rules::idempotency::Numbered;
use crate::rules::lookup::known_revision;
use crate::rules::number::number as written;
use crate::rules::states::{self, RevisionState};
use crate::words::of_problems;
use crate::{IdempotentCall, Listed, Page, Principal, Service, ServiceError};
use matchmark_core::pack::Paper;
use matchmark_store::audit::{self, Act};
use matchmark_store::pack_jobs::{self, JobKitRow, JobRow};
use matchmark_store::{Conn, StoreError};
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

/// A job to ask for.
#[derive(Debug, Clone, Default, Deserialize, Serialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(example = json!({"paper": "a4"}))]
pub struct NewPackJob {
    /// Paper for all kits; when absent each keeps that of its last pack.
    #[serde(default)]
    pub paper: Option<Paper>,
}

/// How far a job is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, ToSchema)]
#[serde(rename_all = "lowercase")]
pub enum PackJobState {
    /// Nobody has begun, or who had begun is gone; it goes on by itself.
    Waiting,
    /// Packs are being issued.
    Running,
    /// It was asked to end and will, after the kit in hand.
    Cancelling,
    /// It ended before all kits had their turn.
    Cancelled,
    /// Every kit has a result.
    Done,
}

impl PackJobState {
    /// Whether nothing more will happen.
    pub fn is_over(self) -> bool {
        matches!(self, Self::Cancelled | Self::Done)
    }
}

/// A job that issues a pack for every kit that a revision had when it was asked for.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct PackJobView {
    /// Its number, from 1.
    pub number: i64,
    /// Id of the design.
    pub design: String,
    /// Letter of the revision.
    pub revision: String,
    /// How far it is.
    pub state: PackJobState,
    /// Paper for all kits; absent when each keeps its own.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub paper: Option<String>,
    /// Number of kits.
    pub kits: i64,
    /// Kits whose turn is to come.
    pub waiting: i64,
    /// Kits for which a pack was issued.
    pub issued: i64,
    /// Kits whose last pack is as one issued now would be.
    pub current: i64,
    /// Kits for which none could be issued.
    pub refused: i64,
    /// Kits left as they were when the job was cancelled.
    pub left: i64,
    /// When it was asked for, RFC 3339 in UTC.
    pub created_at: String,
    /// When it ended.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub finished_at: Option<String>,
}

/// What became of a kit.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, ToSchema)]
#[serde(rename_all = "lowercase")]
pub enum PackJobKitState {
    /// Its turn is to come.
    Waiting,
    /// A pack was issued for it.
    Issued,
    /// Its last pack is as one issued now would be.
    Current,
    /// None could be issued.
    Refused,
    /// The job was cancelled before its turn.
    Left,
}

/// A kit of a job.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct PackJobKit {
    /// Its place among the results, from 1; absent without a result.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub place: Option<i64>,
    /// Serial.
    pub kit: String,
    /// What became of it.
    pub state: PackJobKitState,
    /// Number of the pack issued, or of the one that is current.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub pack: Option<i64>,
    /// Why none was issued.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub problem: Option<PackJobProblem>,
    /// When, RFC 3339 in UTC.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub at: Option<String>,
}

/// Why no pack was issued for a kit.
#[derive(Debug, Clone, Deserialize, Serialize, ToSchema)]
pub struct PackJobProblem {
    /// Stable code, as the last part of a problem's `type`.
    pub code: String,
    /// What is the matter and what to do.
    pub detail: String,
}

impl TryFrom<JobKitRow> for PackJobKit {
    type Error = ServiceError;

    fn try_from(row: JobKitRow) -> Result<Self, ServiceError> {
        let state = match row.state.as_str() {
            "waiting" => PackJobKitState::Waiting,
            "issued" => PackJobKitState::Issued,
            "current" => PackJobKitState::Current,
            "refused" => PackJobKitState::Refused,
            "left" => PackJobKitState::Left,
            _ => return Err(unknown_state(row.state)),
        };
        let problem = job_faults::said(of_problems(), &row.problem);
        Ok(Self { place: row.place, kit: row.kit, state, pack: row.pack, problem, at: row.at })
    }
}

fn unknown_state(value: String) -> ServiceError {
    ServiceError::Store(StoreError::Inconsistent { table: "pack_job_kits", column: "state", value })
}

impl Service {
    /// Asks for a pack for every kit that a revision has now. The work begins at once and goes on by itself.
    pub async fn create_pack_job(
        &self,
        who: &Principal,
        design: &str,
        letter: &str,
        new: &NewPackJob,
        once: &IdempotentCall,
    ) -> Result<PackJobView, ServiceError> {
        who.may_support()?;
        let stamp = self.clock.stamp();
        let mut write = self.store.write().await?;
        if let Some(Numbered { number }) = once.answered(&mut write).await? {
            let row = known_job(&mut write, &number.to_string()).await?;
            return view(&mut write, row, stamp.at()).await;
        }
        known_revision(&mut write, design, letter).await?;
        if states::of_design(&mut write, design).await?.of(letter) == RevisionState::Recalled {
            return Err(ServiceError::IssuesNoPacks(letter.to_owned()));
        }
        let mut row = JobRow {
            number: 0,
            design: design.to_owned(),
            revision: letter.to_owned(),
            paper: new.paper.map(|paper| paper.name().to_owned()),
            created_at: stamp.at().to_owned(),
            created_by: who.token.clone(),
            cancelled_at: None,
            finished_at: None,
            leased_by: String::new(),
            leased_until: String::new(),
        };
        row.number = pack_jobs::insert(&mut write, &row).await?;
        pack_jobs::insert_kits(&mut write, row.number, design, letter).await?;
        let subject = format!("pack-jobs/{}", row.number);
        let act = Act { at: stamp.at(), actor: &who.token, action: "create-pack-job", subject: &subject };
        audit::append(&mut write, act).await?;
        let view = view(&mut write, row, stamp.at()).await?;
        once.record(&mut write, &Numbered { number: view.number }, stamp.at()).await?;
        write.commit().await?;
        self.job_news.notify_one();
        Ok(view)
    }

    /// A page of all jobs, newest first.
    pub async fn pack_jobs(&self, who: &Principal, page: &Page) -> Result<Listed<PackJobView>, ServiceError> {
        who.may_support()?;
        let before = page.after.parse().unwrap_or(i64::MAX);
        let limit = i64::try_from(page.limit + 1).unwrap_or(i64::MAX);
        let now = self.clock.stamp();
        let mut read = self.store.read().await?;
        let mut views = Vec::new();
        for row in pack_jobs::list(&mut read, before, limit).await? {
            views.push(view(&mut read, row, now.at()).await?);
        }
        Ok(Listed::cut(views, page.limit, |view: &PackJobView| view.number.to_string()))
    }

    /// One job; `number` as the caller wrote it.
    pub async fn pack_job(&self, who: &Principal, number: &str) -> Result<PackJobView, ServiceError> {
        who.may_support()?;
        let mut read = self.store.read().await?;
        let row = known_job(&mut read, number).await?;
        view(&mut read, row, self.clock.stamp().at()).await
    }

    /// A page of the kits of a job, in order of serial.
    pub async fn pack_job_kits(
        &self,
        who: &Principal,
        number: &str,
        page: &Page,
    ) -> Result<Listed<PackJobKit>, ServiceError> {
        who.may_support()?;
        let mut read = self.store.read().await?;
        let job = known_job(&mut read, number).await?.number;
        let limit = i64::try_from(page.limit + 1).unwrap_or(i64::MAX);
        let rows = pack_jobs::kits(&mut read, job, &page.after, limit).await?;
        let kits: Result<Vec<_>, _> = rows.into_iter().map(PackJobKit::try_from).collect();
        Ok(Listed::cut(kits?, page.limit, |kit: &PackJobKit| kit.kit.clone()))
    }

    /// How far a job is, and its next results after the one at this place, in their order.
    pub async fn pack_job_results(
        &self,
        who: &Principal,
        number: i64,
        after: i64,
    ) -> Result<(PackJobView, Vec<PackJobKit>), ServiceError> {
        who.may_support()?;
        let mut read = self.store.read().await?;
        // In this order: a job that was over before has all its results.
        let row = known_job(&mut read, &number.to_string()).await?;
        let view = view(&mut read, row, self.clock.stamp().at()).await?;
        let rows = pack_jobs::results(&mut read, number, after, 200).await?;
        let kits: Result<Vec<_>, _> = rows.into_iter().map(PackJobKit::try_from).collect();
        Ok((view, kits?))
    }

    /// Asks a job to end after the kit in hand. One that has ended stays as it is.
    pub async fn cancel_pack_job(&self, who: &Principal, number: &str) -> Result<PackJobView, ServiceError> {
        who.may_support()?;
        let stamp = self.clock.stamp();
        let mut write = self.store.write().await?;
        let row = known_job(&mut write, number).await?;
        if row.cancelled_at.is_none() && row.finished_at.is_none() {
            pack_jobs::cancel(&mut write, row.number, stamp.at()).await?;
            let subject = format!("pack-jobs/{}", row.number);
            let act = Act { at: stamp.at(), actor: &who.token, action: "cancel-pack-job", subject: &subject };
            audit::append(&mut write, act).await?;
        }
        let row = known_job(&mut write, number).await?;
        let view = view(&mut write, row, stamp.at()).await?;
        write.commit().await?;
        self.job_news.notify_one();
        Ok(view)
    }
}

async fn known_job(conn: &mut Conn, number: &str) -> Result<JobRow, ServiceError> {
    let unknown = || ServiceError::UnknownJob(number.to_owned());
    let wanted = written(number).ok_or_else(unknown)?;
    pack_jobs::find(conn, wanted).await?.ok_or_else(unknown)
}

async fn view(conn: &mut Conn, row: JobRow, now: &str) -> Result<PackJobView, ServiceError> {
    let state = match (&row.finished_at, &row.cancelled_at) {
        (Some(_), Some(_)) => PackJobState::Cancelled,
        (Some(_), None) => PackJobState::Done,
        (None, Some(_)) => PackJobState::Cancelling,
        (None, None) if row.leased_until.as_str() > now => PackJobState::Running,
        (None, None) => PackJobState::Waiting,
    };
    let mut view = PackJobView {
        number: row.number,
        design: row.design,
        revision: row.revision,
        state,
        paper: row.paper,
        kits: 0,
        waiting: 0,
        issued: 0,
        current: 0,
        refused: 0,
        left: 0,
        created_at: row.created_at,
        finished_at: row.finished_at,
    };
    for row in pack_jobs::counts(conn, view.number).await? {
        view.kits += row.kits;
        *match row.state.as_str() {
            "waiting" => &mut view.waiting,
            "issued" => &mut view.issued,
            "current" => &mut view.current,
            "refused" => &mut view.refused,
            "left" => &mut view.left,
            _ => return Err(unknown_state(row.state)),
        } += row.kits;
    }
    Ok(view)
}
