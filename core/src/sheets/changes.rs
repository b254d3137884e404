//! What changed between two revisions of a design, part by part.

use super::{Datum, End, FitUp, FitUpEnd, FitUpStep, Sheets, StepKind, rounded};
use crate::part::compare::{Change, Motion, Shape, Trim, rework, same_plate};
use crate::part::{Made, Numbers, Part};
use crate::{Stop, Stopped};
use serde::{Deserialize, Serialize};
use std::collections::{BTreeMap, BTreeSet};

/// What changed from an old revision to a new one.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct Changes {
    /// One row for each member and plate of either revision: those of the new one in build order, then those removed.
    pub parts: Vec<PartChange>,
    /// Check dimensions that changed, came or went.
    pub checks: Vec<CheckChange>,
    /// Things to do that came or went; one that changed is there as both.
    pub steps: Vec<StepChange>,
    /// Every step of the fit-up order of either revision: those of the new one in its order, then those that are gone.
    #[serde(default)]
    pub order: Vec<StepPlace>,
    /// Ends left long in both revisions whose trim is another step now, or no longer on the bench: what names that step is void.
    #[serde(default)]
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
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
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
    /// One sentence that says what to do or why.
    pub words: String,
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
    /// Where the cut is set out; `None` when the other end stays or the part is bent, so that the figure on its sheet holds.
    #[serde(default)]
    pub set_out: Option<TrimSetOut>,
}

/// Where one of two cuts of a straight part is set out while the other end is not as the sheets take it, so that holes keep their
/// distances. The ends are trimmed in the order of the rows.
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
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct CheckChange {
    /// Its name.
    pub name: String,
    /// What is measured, in words.
    #[serde(default)]
    pub what: String,
    /// What it was, mm; `None` when it was not there.
    pub old: Option<f64>,
    /// What it is, mm; `None` when it is not there any more.
    pub new: Option<f64>,
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
    fn new(id: &str, kind: ChangeKind, old: Compared, new: Compared, words: String) -> Self {
        Self { words, ..Self::only(id, kind, old.numbers.of(id), new.numbers.of(id)) }
    }

    fn only(id: &str, kind: ChangeKind, old_number: Option<&str>, new_number: Option<&str>) -> Self {
        let words = match kind {
            ChangeKind::Added => "New in this revision: the old kit has no such part.",
            ChangeKind::Removed => "No longer used.",
            _ => "",
        };
        Self {
            member: id.to_owned(),
            kind,
            old_number: old_number.map(str::to_owned),
            new_number: new_number.map(str::to_owned),
            trims: Vec::new(),
            drill: Vec::new(),
            overall: None,
            words: words.to_owned(),
        }
    }
}

fn tube(old: Compared, before: usize, new: Compared, after: usize) -> PartChange {
    let (member, was) = (&new.made.frame.members[after], &old.made.frame.members[before]);
    let id = member.id.as_str();
    let shapes: [Shape; 2] = [old.made.shape(before), new.made.shape(after)];
    let overall = rounded(new.made.parts[after].overall() - old.made.parts[before].overall());
    let change = match rework(&shapes[0], &shapes[1]) {
        Change::Unchanged { .. } => {
            let points = |path: &crate::geometry::Path| path.points(0.2);
            let (here, there) = (points(&member.path), points(&was.path));
            let is_here = here.len() == there.len() && here.iter().zip(&there).all(|(a, b)| a.distance(*b) < PLACE);
            if is_here {
                PartChange::new(id, ChangeKind::Unchanged, old, new, String::new())
            } else {
                let words = "The same part in another place: keep it, and fit it to the new measures.".to_owned();
                PartChange::new(id, ChangeKind::Moved, old, new, words)
            }
        }
        Change::Rework { motion, trims, drill } => {
            let two_of_straight = trims.len() > 1 && member.path.arcs.is_empty();
            let cuts = Cuts { old, before, new, after, motion };
            let set_outs: Vec<Option<TrimSetOut>> =
                (0..trims.len()).map(|at| two_of_straight.then(|| cuts.set_out(&trims, at))).collect();
            let end = |number: usize| if number == 0 { End::From } else { End::To };
            let trims: Vec<TrimRow> = trims
                .into_iter()
                .zip(set_outs)
                .map(|(trim, set_out)| TrimRow {
                    set_out,
                    end: end(trim.new_end),
                    old_end: end(trim.old_end),
                    most: rounded(trim.most),
                    least: rounded(trim.least),
                    wrap: new.sheets.wraps.iter().any(|wrap| wrap.member == id && wrap.end == end(trim.new_end)),
                })
                .collect();
            let drill: Vec<String> =
                drill.into_iter().filter_map(|hole| Some(member.holes.get(hole)?.id.clone())).collect();
            let words = rework_words(&trims, &drill);
            PartChange { trims, drill, ..PartChange::new(id, ChangeKind::Rework, old, new, words) }
        }
        Change::Replace { .. } if new.sheets.stands(id) && is_same_to_figure(old, new, id) => {
            let words = "The part that you have: it was measured and stays. Trim its ends by the new wraps.".to_owned();
            PartChange::new(id, ChangeKind::Moved, old, new, words)
        }
        Change::Replace { why } => {
            PartChange::new(id, ChangeKind::Replace, old, new, why.sentence(["from end", "to end"]))
        }
    };
    PartChange { overall: Some(overall), ..change }
}

/// An old part and the new one that it is trimmed to.
struct Cuts<'a> {
    old: Compared<'a>,
    before: usize,
    new: Compared<'a>,
    after: usize,
    motion: Motion,
}

impl Cuts<'_> {
    /// Two cuts whose edges run as evenly as this are parallel, mm.
    const PARALLEL: f64 = 0.5;

    /// Where the cut at `at` is set out when those before it are made.
    fn set_out(&self, trims: &[Trim], at: usize) -> TrimSetOut {
        let (is, was) = (&self.new.made.parts[self.after], &self.old.made.parts[self.before]);
        let here = trims[at].new_end;
        let wrap = self.new.sheets.wraps.iter().find(|wrap| wrap.member == self.id() && wrap.end.position() == here);
        let nominal = wrap.map_or_else(|| is.overall(), |wrap| wrap.set_out.distance);
        let counted = match wrap.map(|wrap| wrap.set_out.datum) {
            Some(Datum::LongEnd { by }) => by,
            _ => 0.0,
        };
        let there = trims.iter().enumerate().find(|(number, trim)| *number > at && trim.new_end != here);
        let Some((_, there)) = there else {
            return TrimSetOut {
                nominal: rounded(nominal),
                more: rounded(-counted),
                from_old_cut: false,
                old_long: 0.0,
                old_clock_deg: None,
            };
        };
        let tip = |part: &Part, end: usize| {
            let out = part.ends[end].longest.s;
            if end == 0 { -out } else { part.length + out }
        };
        let beyond = self.motion.station(tip(was, there.old_end)) - tip(is, there.new_end);
        let too_much = if there.new_end == 0 { -beyond } else { beyond };
        let cut = &was.ends[there.old_end];
        let is_askew = there.most - there.least > Self::PARALLEL && !cut.kind.is_square();
        let clock = self.motion.clock(cut.cut.profile().clock(cut.longest.u));
        TrimSetOut {
            nominal: rounded(nominal),
            more: rounded(too_much - counted),
            from_old_cut: true,
            old_long: self.old.made.frame.members[self.before].leave_long[there.old_end],
            old_clock_deg: is_askew.then(|| rounded(clock.to_degrees())),
        }
    }

    fn id(&self) -> &str {
        &self.new.made.frame.members[self.after].id
    }
}

/// Whether a part is one and the same in both revisions but for what was measured.
fn is_same_to_figure(old: Compared, new: Compared, id: &str) -> bool {
    let shape = |made: &Made| made.member(id).map(|at| made.shape(at));
    let both = shape(old.to_figure).zip(shape(new.to_figure));
    both.is_some_and(|(was, is)| matches!(rework(&was, &is), Change::Unchanged { .. }))
}

fn rework_words(trims: &[TrimRow], drill: &[String]) -> String {
    let name = |end: End| if end == End::From { "from" } else { "to" };
    let mut words: Vec<String> = trims
        .iter()
        .map(|trim| {
            let turned = if trim.end == trim.old_end {
                String::new()
            } else {
                format!(", which becomes its {} end", name(trim.end))
            };
            let how = if trim.wrap { "mark it with the new wrap" } else { "measure the new overall length" };
            let set_out = trim.set_out.map_or_else(String::new, |set_out| {
                let which = if trim.wrap { "set-out" } else { "length" };
                let cut = if set_out.from_old_cut { "old" } else { "new" };
                let length = set_out.nominal + set_out.more;
                format!(" The {which} is {length:.1} mm from the long point of the other end's {cut} cut.")
            });
            format!(
                "Trim the {} end{turned} by up to {:.1} mm, at least {:.1} mm: {how}.{set_out}",
                name(trim.old_end),
                trim.most,
                trim.least
            )
        })
        .collect();
    if !drill.is_empty() {
        words.push(format!("Drill {}.", drill.join(", ")));
    }
    if trims.iter().any(|trim| trim.set_out.is_some()) {
        words.insert(0, "Trim in this order.".to_owned());
    }
    if words.is_empty() {
        words.push("Finished parts are equal; only what is left long on delivery differs.".to_owned());
    }
    words.join(" ")
}

fn flat(old: Compared, before: usize, new: Compared, after: usize) -> PartChange {
    let (plate, was) = (&new.made.frame.plates[after], &old.made.frame.plates[before]);
    let id = plate.id.as_str();
    let [a, b] = [old.made.plate_shape(before), new.made.plate_shape(after)];
    if same_plate(&a, &b).is_none() {
        let words = "Its outline, thickness, material or holes changed.".to_owned();
        return PartChange::new(id, ChangeKind::Replace, old, new, words);
    }
    let moved = plate.plate.origin.distance(was.plate.origin) > PLACE
        || plate.plate.along.distance(was.plate.along) > 1e-5
        || plate.plate.across.distance(was.plate.across) > 1e-5;
    if moved {
        let words = "The same plate in another place: keep it, and fit it to the new measures.".to_owned();
        return PartChange::new(id, ChangeKind::Moved, old, new, words);
    }
    PartChange::new(id, ChangeKind::Unchanged, old, new, String::new())
}

fn checks(old: &Sheets, new: &Sheets) -> Vec<CheckChange> {
    let rows = |sheets: &Sheets| -> BTreeMap<String, (String, f64)> {
        sheets.checks.iter().map(|check| (check.name.clone(), (check.words(), check.nominal))).collect()
    };
    let (before, after) = (rows(old), rows(new));
    let names: BTreeSet<&String> = before.keys().chain(after.keys()).collect();
    let changed = names.into_iter().filter_map(|name| {
        let (was, is) = (before.get(name), after.get(name));
        let what = is.or(was).map_or_else(String::new, |(what, _)| what.clone());
        let [old, new] = [was, is].map(|row| row.map(|(_, nominal)| *nominal));
        let same = matches!((old, new), (Some(old), Some(new)) if (old - new).abs() < CHECK);
        (!same).then(|| CheckChange { name: name.clone(), what, old, new })
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

/// Pairs the steps of two orders: a part with itself, a thing to do with the same one after the same part. A step of a part that
/// changed, or goes to another place, is not the same.
fn order(parts: &[PartChange], old: &[FitUpStep], new: &[FitUpStep]) -> Vec<StepPlace> {
    let is_changed = |part: &&PartChange| part.kind != ChangeKind::Unchanged || part.old_number != part.new_number;
    let changed: BTreeSet<&str> = parts.iter().filter(is_changed).map(|part| part.member.as_str()).collect();
    let stays = |step: &FitUpStep| step.kind == StepKind::Work || !changed.contains(step.member.as_str());
    let is_pair = |a: &FitUpStep, b: &FitUpStep| {
        a.member == b.member && a.kind == b.kind && (a.kind != StepKind::Work || a.note == b.note)
    };
    let places = new.iter().map(|step| {
        let before = old.iter().find(|before| is_pair(before, step));
        StepPlace {
            member: step.member.clone(),
            old: before.map(|before| before.number),
            new: Some(step.number),
            same: stays(step) && before.is_some_and(|before| is_same_step(before, step)),
        }
    });
    let gone = old.iter().filter(|before| !new.iter().any(|step| is_pair(before, step)));
    let gone = gone.map(|before| StepPlace {
        member: before.member.clone(),
        old: Some(before.number),
        new: None,
        same: false,
    });
    places.chain(gone).collect()
}

/// The ends that both orders trim, but not at the same step of both.
fn trim_steps(old: &FitUp, new: &FitUp) -> Vec<TrimStep> {
    let trims = |order: &FitUp| -> Vec<(String, End, usize, bool)> {
        let trims = order.steps.iter().filter(|step| step.kind == StepKind::Trim);
        let of = |step: &FitUpStep| {
            let stands = order.placed_at(&step.member).is_some_and(|placed| placed < step.number);
            step.ends.iter().map(|end| (step.member.clone(), end.end, step.number, stands)).collect::<Vec<_>>()
        };
        trims.flat_map(of).collect()
    };
    let before = trims(old);
    let moved = trims(new).into_iter().filter_map(|(member, end, number, stands)| {
        let was = before.iter().find(|was| was.0 == member && was.1 == end)?;
        let moves = (was.2, was.3) != (number, stands);
        moves.then_some(TrimStep { member, end, old: was.2, new: number })
    });
    moved.collect()
}

/// Whether two steps say the same but for their number.
fn is_same_step(old: &FitUpStep, new: &FitUpStep) -> bool {
    let is_near = |a: &[f64], b: &[f64]| a.iter().zip(b).all(|(a, b)| (a - b).abs() < PLACE);
    let is_same_end =
        |(a, b): (&FitUpEnd, &FitUpEnd)| is_near(&a.at, &b.at) && FitUpEnd { at: b.at, ..a.clone() } == *b;
    old.ends.len() == new.ends.len()
        && old.ends.iter().zip(&new.ends).all(is_same_end)
        && FitUpStep { number: new.number, ends: new.ends.clone(), ..old.clone() } == *new
}
