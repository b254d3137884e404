//! Notices that were raised before a kit came to its revision. A kit that is registered with an earlier revision, or moved back to one, is
//! told of them like those that were there before.

use crate::notices::raising::Computed;
use crate::rules::outbox::ToHolder;
use crate::rules::states::of_design;
use crate::{NewNotice, Service, ServiceError};
use matchmark_store::clock::Stamp;
use matchmark_store::notices::{self, GroupRow, NoticeRow};
use matchmark_store::{Conn, Write};
use std::collections::HashMap;

/// Kits of one revision of a design with the same choices.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub(crate) struct Alike {
    pub design: String,
    pub revision: String,
    /// JSON object: choice by option.
    pub choices: String,
}

/// What notices mean for kits that come to their revision now.
#[derive(Default)]
pub(crate) struct Late {
    /// By design and number of the notice.
    computed: HashMap<(String, i64), Computed>,
    /// Notices that concern kits, with the part of each that they belong to.
    concerning: HashMap<Alike, Vec<(NoticeRow, i64)>>,
}

impl Service {
    /// A write in which all is known about the notices that concern these kits. What is not yet known is computed while no write is
    /// open, so that others can write.
    pub(crate) async fn write_knowing(&self, late: &mut Late, kits: &[Alike]) -> Result<Write, ServiceError> {
        loop {
            let mut write = self.store.write().await?;
            let mut unknown = Vec::new();
            for alike in kits {
                for notice in before(&mut write, alike).await? {
                    let key = (alike.revision.clone(), alike.choices.clone());
                    let computed = late.computed.get(&(notice.design.clone(), notice.number));
                    let is_known = part_of(&mut write, &notice, alike).await?.is_some()
                        || computed.is_some_and(|computed| computed.contains_key(&key));
                    if !is_known {
                        unknown.push((notice, key));
                    }
                }
            }
            if unknown.is_empty() {
                return Ok(write);
            }
            drop(write);
            for (notice, (revision, choices)) in unknown {
                let change = NewNotice::again(&notice)?;
                let work = self.concern(&notice.design, &change, &revision, &choices).await?;
                late.computed.entry((notice.design, notice.number)).or_default().insert((revision, choices), work);
            }
        }
    }

    /// Tells a kit that has just come to its revision of the notices that were raised before.
    pub(crate) async fn tell_late(
        &self,
        write: &mut Write,
        late: &mut Late,
        serial: &str,
        alike: &Alike,
        stamp: &Stamp,
    ) -> Result<(), ServiceError> {
        if !late.concerning.contains_key(alike) {
            let concerning = concerning(write, &late.computed, alike).await?;
            late.concerning.insert(alike.clone(), concerning);
        }
        let concerning = late.concerning.get(alike).map(Vec::as_slice).unwrap_or_default();
        if concerning.is_empty() {
            return Ok(());
        }
        let had = notices::of_kit(write, serial).await?;
        for (notice, part) in concerning {
            if had.iter().any(|row| row.number == notice.number) {
                continue;
            }
            notices::insert_kit(write, serial, notice, *part).await?;
            let told = ToHolder {
                event: "notice".to_owned(),
                kit: serial.to_owned(),
                design: notice.design.clone(),
                revision: alike.revision.clone(),
                class: notice.class.clone(),
                text: notice.text.clone(),
                recall: None,
            };
            self.tell(write, &format!("{}.{}", notice.design, notice.number), &told, stamp).await?;
        }
        Ok(())
    }
}

/// The notices of a design whose change comes after a revision, oldest first.
async fn before(conn: &mut Conn, alike: &Alike) -> Result<Vec<NoticeRow>, ServiceError> {
    let states = of_design(conn, &alike.design).await?;
    let mut later = notices::list(conn, &alike.design).await?;
    later.retain(|notice| states.comes_before(&alike.revision, &notice.to_revision));
    Ok(later)
}

/// The part of a notice that kits belong to; `None` when it has none for them.
async fn part_of(conn: &mut Conn, notice: &NoticeRow, alike: &Alike) -> Result<Option<i64>, ServiceError> {
    let groups = notices::groups(conn, &notice.design, notice.number).await?;
    let own = groups.into_iter().find(|group| group.revision == alike.revision && group.choices == alike.choices);
    Ok(own.map(|group| group.part))
}

/// The notices that concern kits, each with the part that they belong to, which is added where there is none.
async fn concerning(
    conn: &mut Conn,
    computed: &HashMap<(String, i64), Computed>,
    alike: &Alike,
) -> Result<Vec<(NoticeRow, i64)>, ServiceError> {
    let key = (alike.revision.clone(), alike.choices.clone());
    let mut found = Vec::new();
    for notice in before(conn, alike).await? {
        if let Some(part) = part_of(conn, &notice, alike).await? {
            found.push((notice, part));
            continue;
        }
        let work = computed.get(&(notice.design.clone(), notice.number)).and_then(|computed| computed.get(&key));
        let Some(Some(changes)) = work else { continue };
        let parts = notices::groups(conn, &notice.design, notice.number).await?;
        let part = parts.iter().map(|group| group.part).max().unwrap_or(0) + 1;
        let group = GroupRow {
            part,
            revision: alike.revision.clone(),
            choices: alike.choices.clone(),
            changes: changes.clone(),
        };
        notices::insert_part(conn, &notice, &group).await?;
        found.push((notice, part));
    }
    Ok(found)
}
