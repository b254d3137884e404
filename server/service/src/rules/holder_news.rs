//! What a pack tells the holder of its kit: notices, recalls, whom to ask, and since when its measured values are known.

use crate::ServiceError;
use crate::rules::contact::contact_text;
use crate::rules::drawn_with::RecordedInputs;
use crate::rules::made_already::made_already;
use crate::rules::measured_set::{are_same, known_by};
use crate::rules::publication::ChangeClass;
use crate::rules::states::{RevisionState, States, of_design};
use matchmark_core::pack::{Issue, Notice, Recall};
use matchmark_core::sheets::Changes;
use matchmark_store::Conn;
use matchmark_store::kits::KitRow;
use matchmark_store::measurements::{self, MeasuredRow};
use matchmark_store::notices::{self, NoticeKitRow};
use matchmark_store::states::{self, RecallRow};
use std::collections::BTreeMap;

/// Notices that are not done or whose change the kit's revision does not have, recalls, and whom to ask.
#[derive(Debug, Clone, Default, PartialEq)]
pub(crate) struct HolderNews {
    /// Whom to ask; empty while nobody has said.
    contact: String,
    notices: Vec<Notice>,
    recalls: Vec<Recall>,
    /// The day on which each measured value was told, by gauge.
    measured_on: BTreeMap<String, String>,
}

impl HolderNews {
    /// What the holder of a kit is to be told now.
    pub(crate) async fn of(conn: &mut Conn, kit: &KitRow) -> Result<Self, ServiceError> {
        let states = of_design(conn, &kit.design).await?;
        let mut open = Vec::new();
        let of_kit = notices::of_kit(conn, &kit.serial).await?;
        let told = measurements::list(conn, &kit.serial).await?;
        for row in &of_kit {
            let is_in_pack = !states.comes_before(&kit.revision, &row.to_revision);
            if row.done_at.is_none() || !is_in_pack {
                open.push(Notice {
                    is_stopped: is_stopped(&states, row),
                    made_already: made_already(&states, &of_kit, row),
                    is_remeasured: is_remeasured(&told, row),
                    ..notice(row.clone(), is_in_pack)?
                });
            }
        }
        let recalls = states::recalls_of_kit(conn, &kit.serial).await?;
        Ok(Self {
            contact: contact_text(conn).await?,
            notices: open,
            recalls: recalls.into_iter().map(recall).collect(),
            measured_on: measured_on(conn, &kit.serial).await?,
        })
    }

    /// What of it is kept with a pack.
    pub(crate) fn kept(&self) -> RecordedInputs {
        let (done, open): (Vec<&Notice>, Vec<&Notice>) = self.notices.iter().partition(|notice| notice.done.is_some());
        let numbers = |notices: Vec<&Notice>| notices.into_iter().map(|notice| notice.number).collect();
        RecordedInputs {
            notices: numbers(open),
            done: numbers(done),
            recalls: self.recalls.iter().map(|recall| (recall.revision.clone(), recall.date.clone())).collect(),
            ..RecordedInputs::default()
        }
    }

    /// What the holder of a kit had been told at some time, as far as it was open then.
    pub(crate) async fn by(conn: &mut Conn, serial: &str, at: &str) -> Result<RecordedInputs, ServiceError> {
        let was_open =
            |row: &NoticeKitRow| row.at.as_str() <= at && row.done_at.as_deref().is_none_or(|done| done > at);
        let notices = notices::of_kit(conn, serial).await?;
        let recalls = states::recalls_of_kit(conn, serial).await?.into_iter().filter(|row| row.at.as_str() <= at);
        Ok(RecordedInputs {
            notices: notices.iter().filter(|row| was_open(row)).map(|row| row.number).collect(),
            recalls: recalls.map(|row| (row.letter, day(&row.at))).collect(),
            ..RecordedInputs::default()
        })
    }

    /// Puts it into a pack.
    pub(crate) fn put(&self, issue: &mut Issue) {
        issue.contact.clone_from(&self.contact);
        issue.notices.clone_from(&self.notices);
        issue.recalls.clone_from(&self.recalls);
        issue.measured_on.clone_from(&self.measured_on);
    }
}

/// Notices that were done while a kit had the revision `before`, and whose change is what its revision of now brings.
pub(crate) async fn done_before(conn: &mut Conn, kit: &KitRow, before: &str) -> Result<Vec<Notice>, ServiceError> {
    let rows = notices::of_kit(conn, &kit.serial).await?.into_iter();
    let done = rows.filter(|row| row.done_at.is_some() && row.revision == before && row.to_revision == kit.revision);
    let told = measurements::list(conn, &kit.serial).await?;
    done.map(|row| Ok(Notice { is_remeasured: is_remeasured(&told, &row), ..notice(row, true)? })).collect()
}

/// The day on which the value of each gauge of a kit that has one was told.
pub(crate) async fn measured_on(conn: &mut Conn, serial: &str) -> Result<BTreeMap<String, String>, ServiceError> {
    let last = measurements::last(measurements::list(conn, serial).await?);
    let known = last.into_iter().filter(|(_, row)| row.taken_back.is_none());
    Ok(known.map(|(gauge, row)| (gauge, day(&row.at))).collect())
}

/// Whether a kit has other measured values now than when a notice was raised whose work is done: which of them its parts were made to is
/// not known.
pub(crate) fn is_remeasured(told: &[MeasuredRow], row: &NoticeKitRow) -> bool {
    if row.done_at.is_none() {
        return false;
    }
    !are_same(&known_by(told, &row.at), &measurements::values(told.iter().cloned()))
}

/// Whether the revision with the change of a notice was recalled since, and its kit does not have that or a later one.
pub(crate) fn is_stopped(states: &States, row: &NoticeKitRow) -> bool {
    states.of(&row.to_revision) == RevisionState::Recalled && states.comes_before(&row.kit_revision, &row.to_revision)
}

/// A notice as it is printed, in pages that have its change or not.
pub(crate) fn notice(row: NoticeKitRow, is_in_pack: bool) -> Result<Notice, ServiceError> {
    Ok(Notice {
        number: row.number,
        class: ChangeClass::of_notice(&row.class)?.printed(),
        date: day(&row.at),
        from: row.from_revision,
        to: row.to_revision,
        text: row.text,
        is_in_pack,
        is_stopped: false,
        done: row.done_at.as_deref().map(day),
        is_remeasured: false,
        work: Changes::read(&row.changes),
        made_already: Vec::new(),
    })
}

/// A recall as it is printed.
pub(crate) fn recall(row: RecallRow) -> Recall {
    Recall {
        revision: row.letter,
        date: day(&row.at),
        hazard: row.hazard,
        what_to_do: row.what_to_do,
        remedies: row.remedies,
    }
}

/// The day of a time as RFC 3339 writes it.
pub(crate) fn day(at: &str) -> String {
    at.get(..10).unwrap_or_default().to_owned()
}
