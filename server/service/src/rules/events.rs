//! What happened, told to other programs: written down in the transaction of what happened, listed in the feed, and posted to the
//! webhook where that is configured. An event holds facts and names no person.

use crate::rules::outbox::DeliveryState;
use crate::rules::publication::ChangeClass;
use crate::send::WEBHOOK;
use crate::{Service, ServiceError};
use matchmark_store::Conn;
use matchmark_store::clock::Stamp;
use matchmark_store::deliveries::{self, DeliveryRow};
use matchmark_store::events::{self, EventRow};
use serde::{Deserialize, Serialize};
use time::Duration;
use utoipa::ToSchema;

/// How long events are kept.
pub(crate) const EVENTS_LAST: Duration = Duration::days(90);

/// What happened.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Deserialize, Serialize, ToSchema)]
#[serde(rename_all = "kebab-case")]
pub enum EventType {
    /// A revision was published, or came with the file of a design.
    RevisionPublished,
    /// A revision takes no new kits from now on.
    RevisionWithdrawn,
    /// Nobody goes on with a revision before having read the stop sheet.
    RevisionRecalled,
    /// A withdrawn or recalled revision is in force again.
    RevisionReinstated,
    /// A kit was registered, alone or by an import.
    KitRegistered,
    /// A kit has another revision.
    KitMoved,
    /// Values of a kit were measured or taken back.
    KitMeasured,
    /// A pack was issued.
    PackIssued,
    /// A notice was raised.
    NoticeRaised,
    /// The holder of a kit has read a notice.
    NoticeAcknowledged,
    /// The work of a notice is done to a kit.
    NoticeDone,
    /// The holder of a kit has read the stop sheet of a recall.
    RecallAcknowledged,
    /// A job that issues packs has ended.
    JobEnded,
}

impl EventType {
    /// All of them.
    pub const ALL: [Self; 13] = [
        Self::RevisionPublished,
        Self::RevisionWithdrawn,
        Self::RevisionRecalled,
        Self::RevisionReinstated,
        Self::KitRegistered,
        Self::KitMoved,
        Self::KitMeasured,
        Self::PackIssued,
        Self::NoticeRaised,
        Self::NoticeAcknowledged,
        Self::NoticeDone,
        Self::RecallAcknowledged,
        Self::JobEnded,
    ];

    /// Its name.
    pub fn name(self) -> &'static str {
        match self {
            Self::RevisionPublished => "revision-published",
            Self::RevisionWithdrawn => "revision-withdrawn",
            Self::RevisionRecalled => "revision-recalled",
            Self::RevisionReinstated => "revision-reinstated",
            Self::KitRegistered => "kit-registered",
            Self::KitMoved => "kit-moved",
            Self::KitMeasured => "kit-measured",
            Self::PackIssued => "pack-issued",
            Self::NoticeRaised => "notice-raised",
            Self::NoticeAcknowledged => "notice-acknowledged",
            Self::NoticeDone => "notice-done",
            Self::RecallAcknowledged => "recall-acknowledged",
            Self::JobEnded => "job-ended",
        }
    }

    /// The type of this name.
    pub fn named(name: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|kind| kind.name() == name)
    }
}

/// How a job ended.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize, Serialize, ToSchema)]
#[serde(rename_all = "lowercase")]
pub enum JobEnd {
    /// Every kit has its result.
    Done,
    /// Somebody cancelled it before.
    Cancelled,
}

/// The facts of an event; which of them there are depends on its type.
#[derive(Debug, Clone, Default, PartialEq, Deserialize, Serialize, ToSchema)]
pub struct EventFacts {
    /// Id of the design; in every event.
    #[schema(example = "fenrunner-two")]
    pub design: String,
    /// Letter of the revision: that which something happened to, or that of the kit or pack.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub revision: Option<String>,
    /// Serial of the kit.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub kit: Option<String>,
    /// Letter of the revision that a moved kit had, or that of before the change of a notice.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub from: Option<String>,
    /// Letter of the revision with the change of a notice.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub to: Option<String>,
    /// Number of the pack.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub pack: Option<i64>,
    /// SHA-256 of the file of the pack.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub sha256: Option<String>,
    /// The gauges of which values were measured or taken back.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub gauges: Vec<String>,
    /// Number of the notice.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub notice: Option<i64>,
    /// How much the change matters to those who hold an earlier revision.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub class: Option<ChangeClass>,
    /// How many kits a notice or recall concerned when it was raised.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub kits: Option<i64>,
    /// Number of the job.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub job: Option<i64>,
    /// How the job ended.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub end: Option<JobEnd>,
}

/// What happened, told to other programs.
#[derive(Debug, Clone, Deserialize, Serialize, ToSchema)]
pub struct EventView {
    /// Its id: a whole number greater than that of every event before.
    #[schema(example = 1795656600123_i64)]
    pub id: i64,
    /// When, RFC 3339 in UTC.
    pub at: String,
    /// What happened.
    pub r#type: EventType,
    /// Address in the API of what it happened to.
    #[schema(example = "/v1/kits/QF-0101/packs/1")]
    pub subject: String,
    /// The facts.
    pub facts: EventFacts,
}

impl EventView {
    /// An event as it was kept.
    pub(crate) fn of(row: EventRow) -> Result<Self, ServiceError> {
        let unreadable = || ServiceError::Inconsistent("an event cannot be read");
        Ok(Self {
            id: row.id,
            at: row.at,
            r#type: EventType::named(&row.kind).ok_or_else(unreadable)?,
            subject: row.subject,
            facts: serde_json::from_str(&row.facts).map_err(|_| unreadable())?,
        })
    }
}

/// Something that happened, and what it happened to.
pub(crate) struct Happened {
    kind: EventType,
    subject: String,
    facts: EventFacts,
}

impl Happened {
    /// To a revision; `kits` is how many a recall concerns.
    pub fn to_revision(kind: EventType, design: &str, letter: &str, kits: Option<i64>) -> Self {
        let facts = EventFacts { revision: Some(letter.to_owned()), kits, ..of_design(design) };
        Self { kind, subject: format!("/v1/designs/{design}/revisions/{letter}"), facts }
    }

    /// To a kit that has this revision now.
    pub fn to_kit(kind: EventType, kit: &str, design: &str, letter: &str) -> Self {
        let facts = EventFacts { kit: Some(kit.to_owned()), revision: Some(letter.to_owned()), ..of_design(design) };
        Self { kind, subject: format!("/v1/kits/{kit}"), facts }
    }

    /// To a design as a whole.
    pub fn notice_raised(design: &str, notice: i64) -> Self {
        let facts = EventFacts { notice: Some(notice), ..of_design(design) };
        Self { kind: EventType::NoticeRaised, subject: format!("/v1/designs/{design}/notices/{notice}"), facts }
    }

    /// To a job.
    pub fn job_ended(job: i64, design: &str, letter: &str, end: JobEnd) -> Self {
        let revision = Some(letter.to_owned());
        let facts = EventFacts { job: Some(job), revision, end: Some(end), ..of_design(design) };
        Self { kind: EventType::JobEnded, subject: format!("/v1/pack-jobs/{job}"), facts }
    }

    /// The same at an address below that of what it happened to.
    pub fn at(mut self, below: &str) -> Self {
        self.subject.push_str(below);
        self
    }

    /// The same with more facts.
    pub fn with(mut self, more: impl FnOnce(&mut EventFacts)) -> Self {
        more(&mut self.facts);
        self
    }
}

fn of_design(design: &str) -> EventFacts {
    EventFacts { design: design.to_owned(), ..EventFacts::default() }
}

impl Service {
    /// Writes down what happened, and that it is to be posted where its type is; belongs in the transaction of what happened.
    pub(crate) async fn happened(
        &self,
        conn: &mut Conn,
        Happened { kind, subject, facts }: Happened,
        stamp: &Stamp,
    ) -> Result<(), ServiceError> {
        let unwritten = |_| ServiceError::Inconsistent("an event cannot be written");
        let mut row = EventRow {
            id: stamp.milliseconds(),
            at: stamp.at().to_owned(),
            kind: kind.name().to_owned(),
            subject,
            facts: serde_json::to_string(&facts).map_err(unwritten)?,
        };
        row.id = events::insert(conn, &row).await?;
        if self.channels.webhook.is_none() || !self.channels.events.contains(&kind) {
            return Ok(());
        }
        let view = EventView::of(row)?;
        let delivery = DeliveryRow {
            id: format!("event.{}.{WEBHOOK}", view.id),
            channel: WEBHOOK.to_owned(),
            event: kind.name().to_owned(),
            kit: facts.kit,
            payload: serde_json::to_string(&view).map_err(unwritten)?,
            state: DeliveryState::Waiting.name().to_owned(),
            attempts: 0,
            due_at: stamp.at().to_owned(),
            error: String::new(),
            created_at: stamp.at().to_owned(),
        };
        Ok(deliveries::insert(conn, &delivery).await?)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_type_is_named_as_it_is_written() {
        for kind in EventType::ALL {
            assert_eq!(serde_json::json!(kind), kind.name());
            assert_eq!(EventType::named(kind.name()), Some(kind));
        }
    }
}
