//! The fit-up order: what goes on when, what each end must meet, and what is done in between.

use super::End;
use super::rounded;
use crate::document::{Design, EndCut};
use crate::frame::{CutKind, Frame, fit::tip};
use crate::part::Part;
use serde::Serialize;

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
    /// Both ends of a tube, `from` first; empty otherwise.
    pub ends: Vec<FitUpEnd>,
    /// What to do, or the designer's note to this member; empty when there is none.
    pub note: String,
    /// Root gap left at the coped ends, mm; 0 where there is none.
    pub gap: f64,
    /// Names of the checks to make at this step.
    pub checks: Vec<String>,
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
    /// What is left long here and trimmed at this step, mm.
    pub trim: f64,
    /// How deep a plug must sit, or how far a sleeve must reach over its tube, mm; `None` for other ends.
    pub depth: Option<f64>,
}

impl FitUp {
    /// The order of a frame's parts.
    #[must_use]
    pub fn of(design: &Design, frame: &Frame, parts: &[Part]) -> Self {
        let mut steps = Vec::new();
        let mut plates: Vec<usize> = (0..frame.plates.len()).collect();
        plates.sort_by_key(|&plate| frame.plates[plate].before);
        let mut plates = plates.into_iter().peekable();
        let mut put = |step: FitUpStep| {
            let after = step.member.clone();
            let is_first = steps.iter().all(|known: &FitUpStep| known.member != after);
            steps.push(step);
            for work in design.steps.iter().flatten().filter(|work| is_first && work.after.as_str() == after) {
                steps.push(FitUpStep {
                    number: 0,
                    kind: StepKind::Work,
                    member: after.clone(),
                    size: String::new(),
                    ends: Vec::new(),
                    note: work.what.as_str().to_owned(),
                    gap: 0.0,
                    checks: work.checks.iter().flatten().map(|check| check.as_str().to_owned()).collect(),
                });
            }
        };
        for part in parts {
            while let Some(plate) = plates.next_if(|&plate| frame.plates[plate].before <= part.member) {
                put(of_plate(frame, plate));
            }
            put(of_tube(design, frame, part));
        }
        for plate in plates {
            put(of_plate(frame, plate));
        }
        for (step, number) in steps.iter_mut().zip(1..) {
            step.number = number;
        }
        Self { steps }
    }
}

fn of_tube(design: &Design, frame: &Frame, part: &Part) -> FitUpStep {
    let member = &frame.members[part.member];
    let is_coped = part.ends.iter().any(|end| matches!(end.kind, CutKind::Cope | CutKind::CopeAndMitre));
    FitUpStep {
        number: 0,
        kind: StepKind::Tube,
        member: member.id.clone(),
        size: frame.section(member).size(),
        ends: [End::From, End::To].map(|end| FitUpEnd::of(design, frame, part, end)).to_vec(),
        note: member.note.clone(),
        gap: if is_coped { member.gap } else { 0.0 },
        checks: Vec::new(),
    }
}

fn of_plate(frame: &Frame, plate: usize) -> FitUpStep {
    let placed = &frame.plates[plate];
    FitUpStep {
        number: 0,
        kind: StepKind::Plate,
        member: placed.id.clone(),
        size: format!("plate {}", placed.plate.thickness),
        ends: Vec::new(),
        note: placed.note.clone(),
        gap: 0.0,
        checks: Vec::new(),
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
            trim: member.leave_long[end.position()],
            depth,
        }
    }
}
