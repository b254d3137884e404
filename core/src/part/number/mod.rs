//! Part numbers: one for equal parts, the same from revision to revision as long as the part stays the same.
//!
//! A number is a prefix, a base and a dash: `FT104-2`. A part that changes so that the old one no longer serves keeps its base and
//! takes the next dash; bases and dashes are never given twice. The document may fix a number instead.

mod master;
mod measured;
mod present;

pub use measured::is_as_measured;

use super::made::Made;
use crate::document::{Finding, Findings};
use crate::words::findings::part::PartFault;
use crate::{Stop, Stopped};
use master::Master;
use serde::{Deserialize, Serialize};
use std::collections::{BTreeMap, BTreeSet};

/// First base that is given.
const FIRST: u32 = 101;

/// Whether a part is a tube or a plate.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
#[serde(rename_all = "lowercase")]
pub enum PartKind {
    /// A tube.
    Tube,
    /// A plate.
    Plate,
}

/// The part numbers of one revision, with what the next one needs to know.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize, Deserialize)]
pub struct Numbers {
    /// One entry a part.
    pub parts: Vec<Numbered>,
    /// The last dash given for each base.
    pub dashes: BTreeMap<u32, u32>,
}

/// A part number and who has it.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Numbered {
    /// The whole number.
    pub number: String,
    /// Its base; `None` when the document fixes the number.
    pub base: Option<u32>,
    /// Tube or plate.
    pub kind: PartKind,
    /// Ids of the members or plates that are this part, in build order.
    pub members: Vec<String>,
}

impl Numbers {
    /// The number of a member or plate.
    #[must_use]
    pub fn of(&self, id: &str) -> Option<&str> {
        self.parts.iter().find(|part| part.members.iter().any(|member| member == id)).map(|part| part.number.as_str())
    }

    /// Numbers the parts of a frame. `before` is the revision before with its numbers; `prefix` comes before each new base.
    ///
    /// Adds an error for a fixed number on parts that differ, and a warning for equal parts that are numbered apart.
    ///
    /// # Errors
    /// [`Stopped`] when they are no longer wanted.
    pub fn give(
        now: &Made,
        before: Option<(&Made, &Self)>,
        prefix: &str,
        stop: Stop,
        findings: &mut Findings,
    ) -> Result<Self, Stopped> {
        let groups = groups(now, stop, findings)?;
        let mut numbers = Self { parts: Vec::with_capacity(groups.len()), dashes: BTreeMap::new() };
        if let Some((_, known)) = before {
            numbers.dashes.clone_from(&known.dashes);
        }
        let olds = before.map_or_else(|| Ok(Vec::new()), |(made, known)| masters_of(made, known, stop))?;
        let mut kept = BTreeSet::new();
        // First those that stay what they are, so that a changed part cannot take their number.
        let stays: Vec<Option<&Numbered>> = groups
            .iter()
            .map(|group| {
                stop.check()?;
                let same = olds.iter().find(|(old, master)| {
                    group.fixed.is_none() && !kept.contains(&old.number) && group.master.is_same(master)
                });
                Ok(same.map(|(old, _)| {
                    kept.insert(old.number.clone());
                    *old
                }))
            })
            .collect::<Result<_, Stopped>>()?;
        for (group, stays) in groups.into_iter().zip(stays) {
            let (number, base) = match (&group.fixed, stays) {
                (Some(fixed), _) => (fixed.clone(), None),
                (None, Some(old)) => (old.number.clone(), old.base),
                (None, None) => {
                    let line = olds.iter().filter(|(old, _)| old.kind == group.kind).find_map(|(old, _)| {
                        let shares = old.members.iter().any(|member| group.members.contains(member));
                        old.base.filter(|_| shares)
                    });
                    let base = line.unwrap_or_else(|| numbers.dashes.keys().last().map_or(FIRST, |last| last + 1));
                    let dash = numbers.dashes.entry(base).or_insert(0);
                    *dash += 1;
                    (format!("{prefix}{base}-{dash}"), Some(base))
                }
            };
            numbers.parts.push(Numbered { number, base, kind: group.kind, members: group.members });
        }
        Ok(numbers)
    }
}

/// Equal parts of one frame.
struct Group {
    kind: PartKind,
    master: Master,
    fixed: Option<String>,
    members: Vec<String>,
}

fn groups(made: &Made, stop: Stop, findings: &mut Findings) -> Result<Vec<Group>, Stopped> {
    let mut groups: Vec<Group> = Vec::new();
    let frame = &made.frame;
    let tubes = frame.members.iter().enumerate().map(|(at, member)| {
        let pointer = format!("/members/{}/part", member.source);
        (PartKind::Tube, member.id.clone(), member.part_number.clone(), Master::tube(made, at), pointer)
    });
    let plates = frame.plates.iter().enumerate().map(|(at, plate)| {
        let pointer = format!("/plates/{}/part", plate.source);
        (PartKind::Plate, plate.id.clone(), plate.part_number.clone(), Master::plate(made, at), pointer)
    });
    for (kind, id, fixed, master, pointer) in tubes.chain(plates) {
        stop.check()?;
        let equal = groups.iter_mut().find(|group| {
            group.kind == kind
                && (group.fixed == fixed || group.fixed.is_none() || fixed.is_none())
                && group.master.is_same(&master)
        });
        if let Some(group) = equal {
            group.members.push(id);
            group.fixed = group.fixed.take().or(fixed);
            continue;
        }
        if let Some(number) = &fixed {
            if let Some(other) = groups.iter().find(|group| group.fixed.as_ref() == Some(number)) {
                let fact = PartFault::NumberClash { id: &id, other: &other.members[0], number };
                let about = [id.as_str(), other.members[0].as_str()];
                findings.push(Finding::error("part-number-clash", pointer.clone(), fact).about(about));
            }
            let apart = groups.iter().find(|group| group.kind == kind && group.master.is_same(&master));
            if let Some((other, other_number)) = apart.and_then(|group| Some((group, group.fixed.as_ref()?))) {
                let fact = PartFault::NumberedApart { id: &id, number, other: &other.members[0], other_number };
                let about = [id.as_str(), other.members[0].as_str()];
                findings.push(Finding::warning("numbered-apart", pointer, fact).about(about));
            }
        }
        groups.push(Group { kind, master, fixed, members: vec![id] });
    }
    Ok(groups)
}

/// The parts of the revision before with their shapes; what its document no longer yields is left out.
fn masters_of<'a>(made: &Made, known: &'a Numbers, stop: Stop) -> Result<Vec<(&'a Numbered, Master)>, Stopped> {
    let master = |part: &'a Numbered| {
        let first = part.members.first()?;
        let master = match part.kind {
            PartKind::Tube => Master::tube(made, made.member(first)?),
            PartKind::Plate => Master::plate(made, made.plate(first)?),
        };
        Some((part, master))
    };
    known.parts.iter().filter_map(|part| stop.check().map(|()| master(part)).transpose()).collect()
}
