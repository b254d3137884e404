//! What changed between two revisions of a design, part by part.

mod kept;
mod order;
mod tube;

use super::{CheckRow, Dimension, End, Place, Sheets, StepKind};
use crate::part::compare::{Why, same_plate};
use crate::part::{Made, Numbers};
use crate::{Stop, Stopped};
use order::{order, trim_steps};
use serde::{Deserialize, Serialize};
use std::collections::{BTreeMap, BTreeSet};
use tube::tube;

/// What changed from an old revision to a new one.
#[derive(Debug, Clone, Default, PartialEq, Serialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct Changes {
    /// One row for each member and plate of either revision: those of the new one in build order, then those removed.
    pub parts: Vec<PartChange>,
    /// Check dimensions that changed, came or went.
    pub checks: Vec<CheckChange>,
    /// Things to do that came or went; one that changed is there as both.
    pub steps: Vec<StepChange>,
    /// Every step of the fit-up order of either revision: those of the new one in its order, then those that are gone.
    #[cfg_attr(feature = "openapi", schema(required = false))]
    pub order: Vec<StepPlace>,
    /// Ends left long in both revisions whose trim is another step now, or no longer on the bench: what names that step is void.
    #[cfg_attr(feature = "openapi", schema(required = false))]
    pub trim_steps: Vec<TrimStep>,
}

/// An end left long, and the numbers of the steps at which it is trimmed.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct TrimStep {
    /// Id of the member.
    pub member: String,
    /// The end.
    pub end: End,
    /// The step in the old revision.
    pub old: usize,
    /// The step in the new revision.
    pub new: usize,
}

/// What became of a part.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
#[serde(rename_all = "lowercase")]
pub enum ChangeKind {
    /// Nothing.
    Unchanged,
    /// The part is the same and goes to another place.
    Moved,
    /// The old part can be made into the new one.
    Rework,
    /// The old part cannot serve.
    Replace,
    /// There is none in the old revision.
    Added,
    /// There is none in the new revision.
    Removed,
}

/// One member or plate.
#[derive(Debug, Clone, PartialEq)]
pub struct PartChange {
    /// Id of the member or plate.
    pub member: String,
    /// What became of it.
    pub kind: ChangeKind,
    /// Part number in the old revision; `None` when it was not there.
    pub old_number: Option<String>,
    /// Part number in the new revision; `None` when it is not there.
    pub new_number: Option<String>,
    /// Ends to trim, each with the new revision's wrap.
    pub trims: Vec<TrimRow>,
    /// Names of holes to drill.
    pub drill: Vec<String>,
    /// Change of the overall length, new less old, mm; `None` when one is missing or it is a plate.
    pub overall: Option<f64>,
    /// Why it is so, where the rest does not say it.
    pub reason: Option<Reason>,
}

/// Why a part is kept or cannot serve.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case", tag = "reason")]
pub enum Reason {
    /// The same tube goes to another place.
    TubeElsewhere,
    /// The same plate goes to another place.
    PlateElsewhere,
    /// The part was measured and stays; what changed is at its ends.
    Measured,
    /// The old tube cannot become the new one.
    Tube(Why),
    /// The plate has another outline, thickness, material or other holes.
    Plate,
    /// As a version that kept no facts told it, in English and mm.
    Told {
        /// Its sentence.
        words: String,
    },
}

/// An end to trim.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct TrimRow {
    /// The end of the new part, whose wrap marks the cut.
    pub end: End,
    /// The end of the old part that is trimmed to become it.
    pub old_end: End,
    /// Most to take off anywhere round the tube, mm.
    pub most: f64,
    /// Least to take off, mm.
    pub least: f64,
    /// True when a wrap of the new revision marks the cut; false for a square cut that is measured.
    pub wrap: bool,
    /// Where the cut is set out; `None` when the part is bent, or the other end stays and nothing is left long there, so that the figure on
    /// its sheet holds.
    #[serde(default)]
    pub set_out: Option<TrimSetOut>,
    /// What is left long at that end of the old part until it is trimmed, mm.
    #[serde(default)]
    pub left_long: f64,
    /// True when the new part is reached only while that is still there, and what is taken off is counted from it; a part that is trimmed
    /// already is scrap.
    #[serde(default)]
    pub while_long: bool,
}

/// Where a cut of a straight part is set out while the other end is not as the sheets take it, so that holes keep their distances. Two
/// ends are trimmed in the order of the rows.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct TrimSetOut {
    /// What the sheets say, mm: the set-out of the wrap, or for a square cut without one the overall length.
    pub nominal: f64,
    /// What is added to that, mm, when it is measured from the long point of the other end as it is cut by then.
    pub more: f64,
    /// True while the other end has its old cut.
    pub from_old_cut: bool,
    /// What is still left long at that end if the old part was not trimmed there, mm: measured from the sawn end it is as much more.
    pub old_long: f64,
    /// Where the long point of that end's old cut lies, degrees from the new part's index line; `None` where it lies as the wrap says.
    pub old_clock_deg: Option<f64>,
}

/// A check dimension that changed.
#[derive(Debug, Clone, PartialEq)]
pub struct CheckChange {
    /// Its name.
    pub name: String,
    /// What is measured.
    pub what: Measured,
    /// What it was, mm; `None` when it was not there.
    pub old: Option<f64>,
    /// What it is, mm; `None` when it is not there any more.
    pub new: Option<f64>,
}

/// What a check dimension measures.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case", tag = "is")]
pub enum Measured {
    /// A dimension from one place to another.
    Between {
        /// What it is.
        dimension: Dimension,
        /// From where and to where.
        places: [Place; 2],
    },
    /// As a version that kept no facts told it, in English and mm.
    Told {
        /// Its words; empty where it told nothing.
        words: String,
    },
}

/// Something to do that came or went.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct StepChange {
    /// True when it came, false when it went.
    pub added: bool,
    /// After which member or plate it is done.
    pub after: String,
    /// What to do.
    pub what: String,
}

/// A step of the fit-up order and its number in both revisions.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct StepPlace {
    /// Id of the member or plate that is put in place, or after which something is done.
    pub member: String,
    /// Number in the old revision; `None` when it was not there.
    pub old: Option<usize>,
    /// Number in the new revision; `None` when it is not there any more.
    pub new: Option<usize>,
    /// True when its part and all that is said of it but its number are as before.
    pub same: bool,
}

/// One revision as it is compared.
#[derive(Debug, Clone, Copy)]
pub struct Compared<'a> {
    /// What is made.
    pub made: &'a Made,
    /// What is made where nothing was measured.
    pub to_figure: &'a Made,
    /// Its sheets.
    pub sheets: &'a Sheets,
    /// Its part numbers.
    pub numbers: &'a Numbers,
}

/// Centrelines that differ by less than this lie in the same place, mm.
const PLACE: f64 = 0.01;

/// Check dimensions that differ by less than this are the same, mm.
const CHECK: f64 = 0.005;

impl Changes {
    /// What changed from `old` to `new`.
    ///
    /// # Errors
    /// [`Stopped`] when it is no longer wanted.
    pub fn between(old: Compared, new: Compared, stop: Stop) -> Result<Self, Stopped> {
        let mut parts = Vec::new();
        for (at, member) in new.made.frame.members.iter().enumerate() {
            stop.check()?;
            parts.push(match old.made.member(&member.id) {
                Some(before) => tube(old, before, new, at),
                None => PartChange::only(&member.id, ChangeKind::Added, None, new.numbers.of(&member.id)),
            });
        }
        for (at, plate) in new.made.frame.plates.iter().enumerate() {
            stop.check()?;
            parts.push(match old.made.plate(&plate.id) {
                Some(before) => flat(old, before, new, at),
                None => PartChange::only(&plate.id, ChangeKind::Added, None, new.numbers.of(&plate.id)),
            });
        }
        let members = old.made.frame.members.iter().map(|member| &member.id).filter(|id| new.made.member(id).is_none());
        let plates = old.made.frame.plates.iter().map(|plate| &plate.id).filter(|id| new.made.plate(id).is_none());
        for id in members.chain(plates) {
            parts.push(PartChange::only(id, ChangeKind::Removed, old.numbers.of(id), None));
        }
        Ok(Self {
            checks: checks(old.sheets, new.sheets),
            steps: steps(old.sheets, new.sheets),
            order: order(&parts, &old.sheets.fit_up.steps, &new.sheets.fit_up.steps),
            trim_steps: trim_steps(&old.sheets.fit_up, &new.sheets.fit_up),
            parts,
        })
    }

    /// True when a step that stays has another number now, so that the old order cannot go on beside the new one.
    #[must_use]
    pub fn renumbers_steps(&self) -> bool {
        self.order.iter().any(|step| step.same && step.old != step.new)
    }

    /// True when nothing changed.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.parts.iter().all(|part| part.kind == ChangeKind::Unchanged)
            && self.checks.is_empty()
            && self.steps.is_empty()
    }
}

impl PartChange {
    fn new(id: &str, kind: ChangeKind, old: Compared, new: Compared, reason: Option<Reason>) -> Self {
        Self { reason, ..Self::only(id, kind, old.numbers.of(id), new.numbers.of(id)) }
    }

    fn only(id: &str, kind: ChangeKind, old_number: Option<&str>, new_number: Option<&str>) -> Self {
        Self {
            member: id.to_owned(),
            kind,
            old_number: old_number.map(str::to_owned),
            new_number: new_number.map(str::to_owned),
            trims: Vec::new(),
            drill: Vec::new(),
            overall: None,
            reason: None,
        }
    }
}

fn flat(old: Compared, before: usize, new: Compared, after: usize) -> PartChange {
    let (plate, was) = (&new.made.frame.plates[after], &old.made.frame.plates[before]);
    let id = plate.id.as_str();
    let [a, b] = [old.made.plate_shape(before), new.made.plate_shape(after)];
    if same_plate(&a, &b).is_none() {
        return PartChange::new(id, ChangeKind::Replace, old, new, Some(Reason::Plate));
    }
    let moved = plate.plate.origin.distance(was.plate.origin) > PLACE
        || plate.plate.along.distance(was.plate.along) > 1e-5
        || plate.plate.across.distance(was.plate.across) > 1e-5;
    if moved {
        return PartChange::new(id, ChangeKind::Moved, old, new, Some(Reason::PlateElsewhere));
    }
    PartChange::new(id, ChangeKind::Unchanged, old, new, None)
}

fn checks(old: &Sheets, new: &Sheets) -> Vec<CheckChange> {
    let rows = |sheets: &Sheets| -> BTreeMap<String, (Measured, f64)> {
        let row = |check: &CheckRow| {
            let (dimension, places) = (check.what.clone(), check.between.clone());
            (check.name.clone(), (Measured::Between { dimension, places }, check.nominal))
        };
        sheets.checks.iter().map(row).collect()
    };
    let (before, after) = (rows(old), rows(new));
    let names: BTreeSet<&String> = before.keys().chain(after.keys()).collect();
    let changed = names.into_iter().filter_map(|name| {
        let (was, is) = (before.get(name), after.get(name));
        let (what, _) = is.or(was)?;
        let [old, new] = [was, is].map(|row| row.map(|(_, nominal)| *nominal));
        let same = matches!((old, new), (Some(old), Some(new)) if (old - new).abs() < CHECK);
        (!same).then(|| CheckChange { name: name.clone(), what: what.clone(), old, new })
    });
    changed.collect()
}

fn steps(old: &Sheets, new: &Sheets) -> Vec<StepChange> {
    let work = |sheets: &Sheets| -> Vec<(String, String)> {
        let steps = sheets.fit_up.steps.iter().filter(|step| step.kind == StepKind::Work);
        steps.map(|step| (step.member.clone(), step.note.clone())).collect()
    };
    let (before, after) = (work(old), work(new));
    let gone = before.iter().filter(|step| !after.contains(step)).map(|step| (false, step));
    let come = after.iter().filter(|step| !before.contains(step)).map(|step| (true, step));
    gone.chain(come)
        .map(|(added, (after, what))| StepChange { added, after: after.clone(), what: what.clone() })
        .collect()
}
