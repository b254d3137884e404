//! Notices as seen from a kit: what its builder is told, and how far they are.

use crate::rules::answered;
use crate::rules::events::{EventType, Happened};
use crate::rules::holder_news::is_stopped;
use crate::rules::lookup::readable_kit;
use crate::rules::made_already::made_already;
use crate::rules::number::number as written;
use crate::rules::states::{States, of_design};
use crate::{Answered, ChangeClass, Listed, Page, Principal, Service, ServiceError};
use matchmark_core::pack::MadeAlready;
use matchmark_core::sheets::Changes;
use matchmark_store::audit::{self, Act};
use matchmark_store::kits::KitRow;
use matchmark_store::notices::{self, NoticeFilter, NoticeKitRow};
use matchmark_store::{Conn, holds, measurements};
use serde::{Deserialize, Serialize};
use std::collections::HashMap;
use utoipa::ToSchema;

/// How far a kit is with a notice.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, ToSchema)]
#[serde(rename_all = "lowercase")]
pub enum NoticeState {
    /// Its holder has not acknowledged it.
    Open,
    /// Its holder has read it.
    Acknowledged,
    /// The work is done.
    Done,
}

/// A notice to the holder of a kit.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct KitNotice {
    /// Serial of the kit.
    pub kit: String,
    /// Id of the design.
    pub design: String,
    /// Number of the notice within the design.
    pub number: i64,
    /// How much it matters.
    pub class: ChangeClass,
    /// What the builder is told.
    pub text: String,
    /// Letter of the revision before the change.
    pub from: String,
    /// Letter of the revision with the change.
    pub to: String,
    /// When it was raised, RFC 3339 in UTC.
    pub at: String,
    /// Letter of the revision that the kit had then.
    pub revision: String,
    /// How far the kit is.
    pub state: NoticeState,
    /// True when the revision with the change was recalled since: none of its work is to be done.
    pub stopped: bool,
    /// When it was acknowledged.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub acknowledged_at: Option<String>,
    /// Who acknowledged it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub acknowledged_by: Option<Answered>,
    /// When it was done.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub done_at: Option<String>,
    /// Who said that it is done.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub done_by: Option<Answered>,
    /// True where values of the kit were measured and there is `work`: that is worked out for the frame as designed, and the rework pages
    /// of the notice for the kit as measured. Where they differ, the pages count.
    pub as_designed: bool,
    /// The parts, check dimensions and steps concerned; absent in lists, and when they could not be told for the kit's choices.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub work: Option<Changes>,
    /// Parts of that work which were made anew already for other notices: what is said of them here counts from how they were before, and
    /// must not be done a second time. Not told in lists over several kits.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub made_already: Vec<MadeAlready>,
    /// True while the kit is on hold: none of the work is to be done until the supplier lifts the hold. Not told in lists over several kits.
    pub on_hold: bool,
}

/// What decides how a notice to a kit is told.
struct Told<'a> {
    who: &'a Principal,
    states: States,
    of_kit: Vec<NoticeKitRow>,
    is_measured: bool,
    on_hold: bool,
}

impl<'a> Told<'a> {
    async fn read(conn: &mut Conn, who: &'a Principal, kit: &KitRow) -> Result<Self, ServiceError> {
        Ok(Self {
            who,
            states: of_design(conn, &kit.design).await?,
            of_kit: notices::of_kit(conn, &kit.serial).await?,
            is_measured: is_measured(conn, &kit.serial).await?,
            on_hold: holds::standing(conn, &kit.serial).await?.is_some(),
        })
    }

    fn view(&self, row: &NoticeKitRow) -> Result<KitNotice, ServiceError> {
        Ok(KitNotice {
            made_already: made_already(&self.states, &self.of_kit, row),
            on_hold: self.on_hold,
            ..KitNotice::of(&self.states, row.clone(), self.who, self.is_measured)?
        })
    }
}

impl KitNotice {
    /// A notice as `who` may know it, of a kit of which values were measured or not.
    fn of(states: &States, row: NoticeKitRow, who: &Principal, is_measured: bool) -> Result<Self, ServiceError> {
        let work = Changes::read(&row.changes);
        Ok(Self {
            as_designed: is_measured && work.is_some(),
            stopped: is_stopped(states, &row),
            class: ChangeClass::of_notice(&row.class)?,
            state: match (&row.acknowledged_at, &row.done_at) {
                (_, Some(_)) => NoticeState::Done,
                (Some(_), None) => NoticeState::Acknowledged,
                (None, None) => NoticeState::Open,
            },
            work,
            made_already: Vec::new(),
            on_hold: false,
            kit: row.kit,
            design: row.design,
            number: row.number,
            text: row.text,
            from: row.from_revision,
            to: row.to_revision,
            at: row.at,
            revision: row.revision,
            acknowledged_at: row.acknowledged_at,
            acknowledged_by: Answered::of(who, row.acknowledged_by, row.acknowledged_role, row.acknowledged_name),
            done_at: row.done_at,
            done_by: Answered::of(who, row.done_by, row.done_role, row.done_name),
        })
    }
}

/// Which notices to kits to list.
#[derive(Debug, Clone, Default, Deserialize, utoipa::IntoParams)]
#[serde(deny_unknown_fields)]
#[into_params(parameter_in = Query)]
pub struct OutstandingWanted {
    /// Only of this design.
    pub design: Option<String>,
    /// Only the notice with this number.
    pub notice: Option<i64>,
    /// Only of this class.
    pub class: Option<ChangeClass>,
    /// True to list those that are done as well.
    #[serde(default)]
    pub done: bool,
    /// How many at most: 50 when absent, never more than 200.
    #[param(minimum = 1)]
    pub page_size: Option<usize>,
    /// The `next` of the page before.
    pub cursor: Option<String>,
}

impl Service {
    /// The notices that concern a kit, oldest first.
    pub async fn kit_notices(&self, who: &Principal, serial: &str) -> Result<Vec<KitNotice>, ServiceError> {
        let mut read = self.store.read().await?;
        let kit = readable_kit(&mut read, who, serial).await?;
        let told = Told::read(&mut read, who, &kit).await?;
        told.of_kit.iter().map(|row| told.view(row)).collect()
    }

    /// Records that the holder of a kit has read a notice, or has done its work, as they say themselves or one of the supplier's people on
    /// their behalf; `number` as the caller wrote it. The first time counts; what is done was read.
    pub async fn answer_notice(
        &self,
        who: &Principal,
        serial: &str,
        number: &str,
        done: bool,
    ) -> Result<KitNotice, ServiceError> {
        let stamp = self.clock.stamp();
        let mut write = self.store.write().await?;
        let kit = readable_kit(&mut write, who, serial).await?;
        let told = Told::read(&mut write, who, &kit).await?;
        let unknown = || ServiceError::UnknownNotice(number.to_owned());
        let wanted = written(number).ok_or_else(unknown)?;
        let before = told.of_kit.iter().find(|row| row.number == wanted).ok_or_else(unknown)?;
        if before.done_at.is_some() || (!done && before.acknowledged_at.is_some()) {
            return told.view(before);
        }
        if done && is_stopped(&told.states, before) {
            return Err(ServiceError::NoticeStopped { number: wanted, letter: before.to_revision.clone() });
        }
        notices::acknowledge(&mut write, serial, wanted, stamp.at(), &who.token).await?;
        if done {
            notices::done(&mut write, serial, wanted, stamp.at(), &who.token).await?;
        }
        let action = if done {
            answered::action(who, "finish-notice", "finish-notice-for-holder")
        } else {
            answered::action(who, "acknowledge-notice", "acknowledge-notice-for-holder")
        };
        let subject = format!("kits/{serial}/notices/{wanted}");
        audit::append(&mut write, Act { at: stamp.at(), actor: &who.token, action, subject: &subject }).await?;
        let kind = if done { EventType::NoticeDone } else { EventType::NoticeAcknowledged };
        let happened = Happened::to_kit(kind, serial, &kit.design, &kit.revision).at("/notices");
        self.happened(&mut write, happened.with(|facts| facts.notice = Some(wanted)), &stamp).await?;
        let of_kit = notices::of_kit(&mut write, serial).await?;
        let row = of_kit.into_iter().find(|row| row.number == wanted).ok_or_else(unknown)?;
        let answered = told.view(&row)?;
        write.commit().await?;
        Ok(answered)
    }

    /// A page of the notices to kits that are not done, in order of serial and number.
    pub async fn outstanding(
        &self,
        who: &Principal,
        wanted: &OutstandingWanted,
        page: &Page,
    ) -> Result<Listed<KitNotice>, ServiceError> {
        who.may_support()?;
        let filter = NoticeFilter {
            design: wanted.design.clone(),
            number: wanted.notice,
            class: wanted.class.map(|class| class.name().to_owned()),
            outstanding: !wanted.done,
        };
        let (serial, number) = page.after.split_once('/').unwrap_or_default();
        let mut read = self.store.read().await?;
        let limit = i64::try_from(page.limit + 1).unwrap_or(i64::MAX);
        let rows = notices::kits(&mut read, &filter, (serial, number.parse().unwrap_or(0)), limit).await?;
        let mut states = HashMap::new();
        let mut views = Vec::new();
        for row in rows {
            if !states.contains_key(&row.design) {
                states.insert(row.design.clone(), of_design(&mut read, &row.design).await?);
            }
            if let Some(states) = states.get(&row.design) {
                views.push(KitNotice::of(states, row, who, false)?);
            }
        }
        Ok(Listed::cut(views, page.limit, |view: &KitNotice| format!("{}/{}", view.kit, view.number)))
    }
}

/// Whether any value of a kit was measured and not taken back.
async fn is_measured(conn: &mut Conn, serial: &str) -> Result<bool, ServiceError> {
    Ok(!measurements::values(measurements::list(conn, serial).await?).is_empty())
}
