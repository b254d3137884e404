//! The fit-up order: what goes on when, what each end must meet, and what is done in between.

use super::End;
use super::rounded;
use crate::document::{self, Design, EndCut, OneKit};
use crate::frame::{CutKind, Frame, Target, fit::tip};
use crate::part::Part;
use serde::Serialize;
use std::collections::BTreeSet;

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
    pub size: String,
    /// Both ends of a tube, `from` first; of a tube that is trimmed those that are; empty otherwise.
    pub ends: Vec<FitUpEnd>,
    /// What to do, or the designer's note to this member; empty when there is none.
    pub note: String,
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
    /// What it measures on a frame that is made to the figure, mm.
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
    pub cut: String,
    /// Members and plates it meets.
    pub fits: Vec<String>,
    /// Place of the end point in the frame: x forward, y left, z up, mm.
    pub at: [f64; 3],
    /// What is left long here, mm: at a step that trims, what is cut off.
    pub left_long: f64,
    /// Number of the step at which that is trimmed; `None` where nothing is left long.
    pub trimmed_at: Option<usize>,
    /// How deep a plug must sit, or how far a sleeve must reach over its tube, mm; `None` for other ends.
    pub depth: Option<f64>,
}

impl FitUp {
    /// The order of the parts of a kit's frame.
    #[must_use]
    pub fn of(design: &Design, kit: &OneKit, frame: &Frame, parts: &[Part]) -> Self {
        let order = frame.order();
        let mut steps: Vec<FitUpStep> = Vec::new();
        let mut done: BTreeSet<&str> = BTreeSet::new();
        for place in 0..=order.len() {
            steps.extend(parts.iter().filter_map(|part| trim(design, frame, part, place)));
            let Some(&target) = order.get(place) else { break };
            steps.push(match target {
                Target::Member(member) => of_tube(design, frame, &parts[member]),
                Target::Plate(plate) => of_plate(frame, plate),
            });
            let after = frame.name(target);
            if done.insert(after) {
                let works = design.steps.iter().flatten().filter(|work| work.after.as_str() == after);
                steps.extend(works.map(|work| of_work(design, kit, work)));
            }
        }
        for (step, number) in steps.iter_mut().zip(1..) {
            step.number = number;
        }
        let mut order = Self { steps };
        let known = order.clone();
        for step in &mut order.steps {
            for end in step.ends.iter_mut().filter(|end| end.left_long > 0.0) {
                end.trimmed_at = known.trimmed_at(&step.member, end.end);
            }
        }
        order
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

/// A step of a kind at a member or plate, with nothing in it yet; its number comes later.
fn step(kind: StepKind, member: &str) -> FitUpStep {
    FitUpStep {
        number: 0,
        kind,
        member: member.to_owned(),
        size: String::new(),
        ends: Vec::new(),
        note: String::new(),
        gap: 0.0,
        checks: Vec::new(),
        gauges: Vec::new(),
    }
}

fn of_tube(design: &Design, frame: &Frame, part: &Part) -> FitUpStep {
    let member = &frame.members[part.member];
    let is_coped = part.ends.iter().any(|end| matches!(end.kind, CutKind::Cope | CutKind::CopeAndMitre));
    FitUpStep {
        size: frame.section(member).size(),
        ends: [End::From, End::To].map(|end| FitUpEnd::of(design, frame, part, end)).to_vec(),
        note: member.note.clone(),
        gap: if is_coped { member.gap } else { 0.0 },
        ..step(StepKind::Tube, &member.id)
    }
}

/// What of a tube is trimmed before a place of the order.
fn trim(design: &Design, frame: &Frame, part: &Part, place: usize) -> Option<FitUpStep> {
    let member = &frame.members[part.member];
    let is_now = |end: &End| {
        let end = end.position();
        member.leave_long[end] > 0.0 && member.trim_before[end] == place
    };
    let ends: Vec<FitUpEnd> =
        [End::From, End::To].into_iter().filter(is_now).map(|end| FitUpEnd::of(design, frame, part, end)).collect();
    let size = frame.section(member).size();
    (!ends.is_empty()).then(|| FitUpStep { size, ends, ..step(StepKind::Trim, &member.id) })
}

fn of_plate(frame: &Frame, plate: usize) -> FitUpStep {
    let placed = &frame.plates[plate];
    FitUpStep {
        size: format!("plate {}", placed.plate.thickness),
        note: placed.note.clone(),
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
    fn of(design: &Design, frame: &Frame, part: &Part, end: End) -> Self {
        let member = &frame.members[part.member];
        let ends = design.members.get(member.source).and_then(|member| member.ends.as_ref());
        let cut = ends.and_then(|ends| if end == End::From { ends.from.as_ref() } else { ends.to.as_ref() });
        let depth = match cut {
            Some(EndCut::Plug(plug)) => Some(plug.depth.get()),
            Some(EndCut::Sleeve(sleeve)) => Some(sleeve.depth.get()),
            _ => None,
        };
        let made = &part.ends[end.position()];
        Self {
            end,
            cut: made.kind.word().to_owned(),
            fits: made.met.iter().map(|&met| frame.name(met).to_owned()).collect(),
            at: tip(member, end.position()).origin.to_array().map(rounded),
            left_long: member.leave_long[end.position()],
            trimmed_at: None,
            depth,
        }
    }
}
