//! The fit-up order: what goes on when, what each end must meet, and what is done in between.

use super::{End, Height, rounded};
use crate::document::{self, Design, OneKit};
use crate::frame::{CutKind, Frame, Member, PartSize, Target, fit};
use crate::part::Part;
use serde::{Serialize, Serializer};
use std::collections::{BTreeMap, BTreeSet};

/// The order in which everything goes together, which is the order of the document.
#[derive(Debug, Clone, PartialEq, Default, Serialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct FitUp {
    /// The steps.
    pub steps: Vec<FitUpStep>,
}

/// One step.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct FitUpStep {
    /// Number of the step, from 1.
    pub number: usize,
    /// What is done.
    pub kind: StepKind,
    /// Id of the member or plate that is put in place, or after which something is done.
    pub member: String,
    /// Section as a fitter calls it, or the plate's thickness in mm; empty for something to do.
    #[serde(serialize_with = "size_or_empty")]
    #[cfg_attr(feature = "openapi", schema(value_type = String))]
    pub size: Option<PartSize>,
    /// Both ends of a tube, `from` first; of a tube that is trimmed those that are; empty otherwise.
    pub ends: Vec<FitUpEnd>,
    /// What to do, or the designer's note to this member; empty when there is none.
    pub note: String,
    /// How high over the base plane a part is held that is put in place now; `None` where other parts hold it.
    pub height: Option<Height>,
    /// Root gap left at the coped ends, mm; 0 where there is none.
    pub gap: f64,
    /// Names of the checks to make at this step.
    pub checks: Vec<String>,
    /// What is measured at this step and sent to the supplier.
    pub gauges: Vec<FitUpGauge>,
}

/// A gauge to be measured.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct FitUpGauge {
    /// Its name.
    pub name: String,
    /// What is measured, in words.
    pub what: String,
    /// What it measures on a frame made to nominal size, mm.
    pub nominal: f64,
    /// The least that can be taken into account, mm.
    pub least: f64,
    /// The most that can be taken into account, mm.
    pub most: f64,
    /// What was measured on this kit, mm; `None` when nothing was.
    pub measured: Option<f64>,
}

/// What a step of the fit-up order is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
#[serde(rename_all = "lowercase")]
pub enum StepKind {
    /// A tube is put in place.
    Tube,
    /// A plate is put in place.
    Plate,
    /// Something is done to what stands.
    Work,
    /// What a tube was left long is cut off.
    Trim,
}

/// What one end meets.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct FitUpEnd {
    /// Which end.
    pub end: End,
    /// `square`, `mitre`, `cope`, `cope and mitre`, `plug` or `sleeve`.
    #[cfg_attr(feature = "openapi", schema(value_type = String))]
    pub cut: CutKind,
    /// Members and plates it meets.
    pub fits: Vec<String>,
    /// Place of the end point in the frame: x forward, y left, z up, mm.
    pub at: [f64; 3],
    /// What is left long here, mm: at a step that trims, what is cut off.
    pub left_long: f64,
    /// Number of the step at which that is trimmed; `None` where nothing is left long.
    pub trimmed_at: Option<usize>,
    /// How deep a plug sits in its tube, or how far a sleeve reaches over it, mm, by the places of both; `None` for other ends.
    pub depth: Option<f64>,
}

impl FitUp {
    /// The order of the parts of a kit's frame.
    #[must_use]
    pub fn of(design: &Design, kit: &OneKit, frame: &Frame, parts: &[Part]) -> Self {
        let order = frame.order();
        // The parts of which something is trimmed before each place of the order.
        let mut trimmed: BTreeMap<usize, BTreeSet<usize>> = BTreeMap::new();
        for part in parts {
            let member = &frame.members[part.member];
            for end in (0..2).filter(|&end| member.leave_long[end] > 0.0) {
                trimmed.entry(member.trim_before[end]).or_default().insert(part.member);
            }
        }
        let mut works: BTreeMap<&str, Vec<&document::Step>> = BTreeMap::new();
        for work in design.steps.iter().flatten() {
            works.entry(work.after.as_str()).or_default().push(work);
        }
        let mut steps: Vec<FitUpStep> = Vec::new();
        let mut done: BTreeSet<&str> = BTreeSet::new();
        for place in 0..=order.len() {
            let now = trimmed.get(&place).into_iter().flatten();
            steps.extend(now.map(|&member| trim(frame, &parts[member], place)));
            let Some(&target) = order.get(place) else { break };
            steps.push(match target {
                Target::Member(member) => of_tube(frame, &parts[member]),
                Target::Plate(plate) => of_plate(frame, plate),
            });
            let after = frame.name(target);
            if done.insert(after) {
                steps.extend(works.get(after).into_iter().flatten().map(|work| of_work(design, kit, work)));
            }
        }
        for (step, number) in steps.iter_mut().zip(1..) {
            step.number = number;
        }
        let trims = steps.iter().filter(|step| step.kind == StepKind::Trim);
        let trimmed_at: BTreeMap<(String, End), usize> =
            trims.flat_map(|step| step.ends.iter().map(|end| ((step.member.clone(), end.end), step.number))).collect();
        for step in &mut steps {
            for end in step.ends.iter_mut().filter(|end| end.left_long > 0.0) {
                end.trimmed_at = trimmed_at.get(&(step.member.clone(), end.end)).copied();
            }
        }
        Self { steps }
    }

    /// Number of the step at which an end left long is trimmed; `None` where nothing is left long.
    #[must_use]
    pub fn trimmed_at(&self, member: &str, end: End) -> Option<usize> {
        let trims = self.steps.iter().filter(|step| step.kind == StepKind::Trim && step.member == member);
        trims.filter(|step| step.ends.iter().any(|trimmed| trimmed.end == end)).map(|step| step.number).next()
    }

    /// Number of the step at which a member or plate is put in place.
    #[must_use]
    pub fn placed_at(&self, id: &str) -> Option<usize> {
        let mut placed = self.steps.iter().filter(|step| matches!(step.kind, StepKind::Tube | StepKind::Plate));
        placed.find(|step| step.member == id).map(|step| step.number)
    }
}

fn size_or_empty<S: Serializer>(size: &Option<PartSize>, serializer: S) -> Result<S::Ok, S::Error> {
    match size {
        Some(size) => size.serialize(serializer),
        None => serializer.serialize_str(""),
    }
}

/// A step of a kind at a member or plate, with nothing in it yet; its number comes later.
fn step(kind: StepKind, member: &str) -> FitUpStep {
    FitUpStep {
        number: 0,
        kind,
        member: member.to_owned(),
        size: None,
        ends: Vec::new(),
        note: String::new(),
        height: None,
        gap: 0.0,
        checks: Vec::new(),
        gauges: Vec::new(),
    }
}

fn of_tube(frame: &Frame, part: &Part) -> FitUpStep {
    let member = &frame.members[part.member];
    let is_coped = part.ends.iter().any(|end| matches!(end.kind, CutKind::Cope | CutKind::CopeAndMitre));
    FitUpStep {
        size: Some(PartSize::Tube(frame.section(member).size())),
        ends: [End::From, End::To].map(|end| FitUpEnd::of(frame, part, end)).to_vec(),
        note: member.note.clone(),
        height: Height::of_tube(frame, member),
        gap: if is_coped { member.gap } else { 0.0 },
        ..step(StepKind::Tube, &member.id)
    }
}

/// What of a tube is trimmed before a place of the order.
fn trim(frame: &Frame, part: &Part, place: usize) -> FitUpStep {
    let member = &frame.members[part.member];
    let is_now = |end: &End| {
        let end = end.position();
        member.leave_long[end] > 0.0 && member.trim_before[end] == place
    };
    let ends = [End::From, End::To].into_iter().filter(is_now).map(|end| FitUpEnd::of(frame, part, end));
    FitUpStep {
        size: Some(PartSize::Tube(frame.section(member).size())),
        ends: ends.collect(),
        ..step(StepKind::Trim, &member.id)
    }
}

fn of_plate(frame: &Frame, plate: usize) -> FitUpStep {
    let placed = &frame.plates[plate];
    FitUpStep {
        size: Some(PartSize::Plate(placed.plate.thickness)),
        note: placed.note.clone(),
        height: Height::of_plate(frame, placed),
        ..step(StepKind::Plate, &placed.id)
    }
}

fn of_work(design: &Design, kit: &OneKit, work: &document::Step) -> FitUpStep {
    let gauges = work.gauges.iter().flatten().filter_map(|name| {
        let gauge = design.gauges.as_ref()?.get(name.as_str())?;
        Some(FitUpGauge {
            name: name.as_str().to_owned(),
            what: gauge.what.as_str().to_owned(),
            nominal: gauge.nominal.get(),
            least: gauge.least.get(),
            most: gauge.most.get(),
            measured: kit.measured.get(name.as_str()).copied(),
        })
    });
    FitUpStep {
        note: work.what.as_str().to_owned(),
        checks: work.checks.iter().flatten().map(|check| check.as_str().to_owned()).collect(),
        gauges: gauges.collect(),
        ..step(StepKind::Work, work.after.as_str())
    }
}

impl FitUpEnd {
    fn of(frame: &Frame, part: &Part, end: End) -> Self {
        let member = &frame.members[part.member];
        let made = &part.ends[end.position()];
        Self {
            end,
            cut: made.kind,
            fits: made.met.iter().map(|&met| frame.name(met).to_owned()).collect(),
            at: fit::tip(member, end.position()).origin.to_array().map(rounded),
            left_long: member.leave_long[end.position()],
            trimmed_at: None,
            depth: depth(frame, member, end).map(rounded),
        }
    }
}

/// How far the end of a tube lies in or over the one that it slides on.
fn depth(frame: &Frame, member: &Member, end: End) -> Option<f64> {
    let fitted = &member.ends[end.position()];
    let slides = matches!(fitted.kind, CutKind::Plug | CutKind::Sleeve);
    match fitted.targets.first().filter(|_| slides)? {
        Target::Member(other) => Some(fit::overlap(member, end.position(), &frame.members[*other])),
        Target::Plate(_) => None,
    }
}
