//! Notices: raised by the supplier from a change between two revisions. Whom it concerns, and what is to be done to each kit, is
//! computed.

use crate::rules::events::Happened;
use crate::rules::idempotency::Numbered;
use crate::rules::lookup::{known_design, known_revision};
use crate::rules::number::number as written;
use crate::rules::outbox::ToHolder;
use crate::rules::valid::Checks;
use crate::words::of_problems;
use crate::{ChangeClass, FieldError, IdempotentCall, Principal, Service, ServiceError};
use matchmark_core::sheets::{ChangeKind, Changes};
use matchmark_store::audit::{self, Act};
use matchmark_store::kits::{self, KitGroup};
use matchmark_store::notices::{self, GroupRow, NoticeRow, ProgressRow};
use matchmark_store::{Conn, Write};
use serde::{Deserialize, Serialize};
use std::collections::{BTreeMap, BTreeSet};
use utoipa::ToSchema;

/// A notice to raise.
#[derive(Debug, Clone, Deserialize, Serialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(example = json!({
    "from": "A", "to": "B", "class": "mandatory",
    "text": "The harness bar sits 12 mm too wide. Trim it with the new wrap before it is welded in."
}))]
pub struct NewNotice {
    /// Letter of the revision before the change.
    pub from: String,
    /// Letter of the revision with the change.
    pub to: String,
    /// How much it matters.
    pub class: ChangeClass,
    /// What every builder concerned is told.
    pub text: String,
}

/// A notice.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct NoticeView {
    /// Id of the design.
    pub design: String,
    /// Number within the design, from 1.
    pub number: i64,
    /// Letter of the revision before the change.
    pub from: String,
    /// Letter of the revision with the change.
    pub to: String,
    /// How much it matters.
    pub class: ChangeClass,
    /// What every builder concerned is told.
    pub text: String,
    /// When it was raised, RFC 3339 in UTC.
    pub at: String,
    /// Number of kits concerned.
    pub kits: i64,
    /// How many of them have not acknowledged it.
    pub open: i64,
    /// How many have acknowledged it and are not done.
    pub acknowledged: i64,
    /// How many are done.
    pub done: i64,
}

/// A notice with what is to be done.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct NoticeDetails {
    /// The notice.
    #[serde(flatten)]
    pub notice: NoticeView,
    /// Kits by the revision and choices they had when it was raised: those of a group have the same work to do.
    pub groups: Vec<NoticeGroup>,
}

/// Kits of one revision with the same choices.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct NoticeGroup {
    /// Letter of the revision.
    pub revision: String,
    /// Choice by option.
    #[schema(value_type = BTreeMap<String, String>)]
    pub choices: serde_json::Value,
    /// The parts, check dimensions and steps concerned, from their revision to that of the change; absent when the two could not
    /// be compared for these choices, so that someone has to look.
    pub work: Option<Changes>,
}

impl NewNotice {
    /// A notice that was raised, as it was asked for.
    pub(crate) fn again(row: &NoticeRow) -> Result<Self, ServiceError> {
        Ok(Self {
            from: row.from_revision.clone(),
            to: row.to_revision.clone(),
            class: ChangeClass::of_notice(&row.class)?,
            text: row.text.clone(),
        })
    }
}

impl NoticeView {
    fn of(row: NoticeRow, progress: &ProgressRow) -> Result<Self, ServiceError> {
        Ok(Self {
            design: row.design,
            number: row.number,
            from: row.from_revision,
            to: row.to_revision,
            class: ChangeClass::of_notice(&row.class)?,
            text: row.text,
            at: row.at,
            kits: progress.kits,
            open: progress.kits - progress.acknowledged,
            acknowledged: progress.acknowledged - progress.done,
            done: progress.done,
        })
    }
}

/// What a notice means for one group: `None` when it is not concerned.
pub(crate) type Computed = BTreeMap<(String, String), Option<String>>;

impl Service {
    /// Raises a notice for all kits that the change concerns.
    pub async fn raise_notice(
        &self,
        who: &Principal,
        design: &str,
        new: &NewNotice,
        once: &IdempotentCall,
    ) -> Result<NoticeView, ServiceError> {
        who.may_publish()?;
        let mut checks = Checks::default();
        checks.note("/text", &new.text);
        checks.done()?;
        let mut computed = Computed::new();
        loop {
            let mut write = self.store.write().await?;
            if let Some(Numbered { number }) = once.answered(&mut write).await? {
                return known_notice(&mut write, design, number).await;
            }
            let groups = earlier_groups(&mut write, design, new).await?;
            let key = |group: &KitGroup| (group.revision.clone(), group.choices.clone());
            let unknown: Vec<_> = groups.iter().filter(|group| !computed.contains_key(&key(group))).map(key).collect();
            if unknown.is_empty() {
                let concerned: Vec<GroupRow> = (1..)
                    .zip(groups.iter().filter_map(|group| Some((group, computed.get(&key(group))?.as_ref()?))))
                    .map(|(part, (group, changes))| GroupRow {
                        part,
                        revision: group.revision.clone(),
                        choices: group.choices.clone(),
                        changes: changes.clone(),
                    })
                    .collect();
                return self.record_notice(write, who, design, new, &concerned, once).await;
            }
            // Not while others wait to write.
            drop(write);
            for (revision, choices) in unknown {
                let work = self.concern(design, new, &revision, &choices).await?;
                computed.insert((revision, choices), work);
            }
        }
    }

    async fn record_notice(
        &self,
        mut write: Write,
        who: &Principal,
        design: &str,
        new: &NewNotice,
        concerned: &[GroupRow],
        once: &IdempotentCall,
    ) -> Result<NoticeView, ServiceError> {
        let stamp = self.clock.stamp();
        let number = notices::next_number(&mut write, design).await?;
        let row = NoticeRow {
            design: design.to_owned(),
            number,
            from_revision: new.from.clone(),
            to_revision: new.to.clone(),
            class: new.class.name().to_owned(),
            text: new.text.clone(),
            at: stamp.at().to_owned(),
            token: who.token.clone(),
        };
        notices::insert(&mut write, &row).await?;
        for group in concerned {
            notices::insert_group(&mut write, &row, group).await?;
        }
        for kit in notices::told(&mut write, design, number).await? {
            let told = ToHolder {
                event: "notice".to_owned(),
                kit: kit.kit,
                design: design.to_owned(),
                revision: kit.revision,
                class: row.class.clone(),
                text: row.text.clone(),
                recall: None,
            };
            self.tell(&mut write, &format!("{design}.{number}"), &told, &stamp).await?;
        }
        let subject = format!("designs/{design}/notices/{number}");
        let act = Act { at: stamp.at(), actor: &who.token, action: "raise-notice", subject: &subject };
        audit::append(&mut write, act).await?;
        let progress = notices::progress(&mut write, design, number).await?;
        let happened = Happened::notice_raised(design, number).with(|facts| {
            (facts.from, facts.to) = (Some(row.from_revision.clone()), Some(row.to_revision.clone()));
            (facts.class, facts.kits) = (Some(new.class), Some(progress.kits));
        });
        self.happened(&mut write, happened, &stamp).await?;
        let view = NoticeView::of(row, &progress)?;
        once.record(&mut write, &Numbered { number }, stamp.at()).await?;
        write.commit().await?;
        self.delivery_news.notify_one();
        Ok(view)
    }

    /// What kits of a revision with these choices have to do about a change: `None` when it does not concern them, empty text
    /// when that could not be told.
    pub(crate) async fn concern(
        &self,
        design: &str,
        new: &NewNotice,
        revision: &str,
        choices: &str,
    ) -> Result<Option<String>, ServiceError> {
        let Some(work) = self.work_of(design, [&new.from, &new.to], revision, choices).await? else {
            return Ok(Some(String::new()));
        };
        if work.is_empty() {
            return Ok(None);
        }
        work.kept().map(Some).ok_or(ServiceError::Inconsistent("changes cannot be written"))
    }

    /// What kits of a revision with these choices have to do about a change from one revision to another; `None` when that could not
    /// be told.
    pub(crate) async fn work_of(
        &self,
        design: &str,
        [from, to]: [&str; 2],
        revision: &str,
        choices: &str,
    ) -> Result<Option<Changes>, ServiceError> {
        let change = self.compare(design, from, to, choices).await?;
        let whole = self.compare(design, revision, to, choices).await?;
        Ok(change.zip(whole).map(|(change, whole)| within(&whole, &change)))
    }

    /// All notices of a design, oldest first.
    pub async fn notices(&self, who: &Principal, design: &str) -> Result<Vec<NoticeView>, ServiceError> {
        who.may_support()?;
        let mut read = self.store.read().await?;
        known_design(&mut read, design).await?;
        let mut views = Vec::new();
        for row in notices::list(&mut read, design).await? {
            let progress = notices::progress(&mut read, design, row.number).await?;
            views.push(NoticeView::of(row, &progress)?);
        }
        Ok(views)
    }

    /// One notice with what is to be done; `number` as the caller wrote it.
    pub async fn notice(&self, who: &Principal, design: &str, number: &str) -> Result<NoticeDetails, ServiceError> {
        who.may_support()?;
        let mut read = self.store.read().await?;
        known_design(&mut read, design).await?;
        let unknown = || ServiceError::UnknownNotice(number.to_owned());
        let wanted = written(number).ok_or_else(unknown)?;
        let row = notices::find(&mut read, design, wanted).await?.ok_or_else(unknown)?;
        let groups = notices::groups(&mut read, design, row.number).await?;
        let progress = notices::progress(&mut read, design, row.number).await?;
        let groups = groups.into_iter().map(|group| NoticeGroup {
            choices: serde_json::from_str(&group.choices).unwrap_or_default(),
            work: Changes::read(&group.changes),
            revision: group.revision,
        });
        Ok(NoticeDetails { groups: groups.collect(), notice: NoticeView::of(row, &progress)? })
    }
}

/// A recorded notice, as far as its kits are now.
async fn known_notice(conn: &mut Conn, design: &str, number: i64) -> Result<NoticeView, ServiceError> {
    let row = notices::find(conn, design, number).await?;
    let row = row.ok_or(ServiceError::Inconsistent("a recorded notice is gone"))?;
    let progress = notices::progress(conn, design, number).await?;
    NoticeView::of(row, &progress)
}

/// The kits there are of revisions before that of the change, when the change goes forward.
async fn earlier_groups(conn: &mut Conn, design: &str, new: &NewNotice) -> Result<Vec<KitGroup>, ServiceError> {
    let from = known_revision(conn, design, &new.from).await?;
    let to = known_revision(conn, design, &new.to).await?;
    if from.number >= to.number {
        return Err(ServiceError::Invalid(vec![FieldError {
            pointer: "/to".to_owned(),
            detail: of_problems().fields.later_revision().to_owned(),
        }]));
    }
    let mut groups = Vec::new();
    for group in kits::groups(conn, design).await? {
        if known_revision(conn, design, &group.revision).await?.number < to.number {
            groups.push(group);
        }
    }
    Ok(groups)
}

/// Of all that changed, what belongs to a change: the same parts, check dimensions and steps.
pub(crate) fn within(whole: &Changes, change: &Changes) -> Changes {
    let changed = change.parts.iter().filter(|part| part.kind != ChangeKind::Unchanged);
    let parts: BTreeSet<&String> = changed.map(|part| &part.member).collect();
    let checks: BTreeSet<&String> = change.checks.iter().map(|check| &check.name).collect();
    Changes {
        parts: whole
            .parts
            .iter()
            .filter(|part| part.kind != ChangeKind::Unchanged && parts.contains(&part.member))
            .cloned()
            .collect(),
        checks: whole.checks.iter().filter(|check| checks.contains(&check.name)).cloned().collect(),
        steps: whole.steps.iter().filter(|step| change.steps.contains(step)).cloned().collect(),
        order: whole.order.iter().filter(|step| parts.contains(&step.member)).cloned().collect(),
        trim_steps: whole.trim_steps.iter().filter(|trim| parts.contains(&trim.member)).cloned().collect(),
    }
}
