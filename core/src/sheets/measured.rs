//! The parts that are there already, because something was measured on them.

use super::FitUp;
use crate::document::{Design, OneKit};
use crate::frame::{Frame, hangs_on};
use serde::Serialize;
use std::collections::BTreeSet;

/// A part on which something was measured: it stands as it is, and what goes to it is fitted to that.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct MeasuredPart {
    /// Id of the member.
    pub member: String,
    /// What was measured on it, by gauge.
    pub values: Vec<MeasuredValue>,
}

/// A value that was measured.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct MeasuredValue {
    /// Name of the gauge.
    pub gauge: String,
    /// What was measured, mm.
    pub measured: f64,
    /// What it measures on a part made to nominal size, mm.
    pub nominal: f64,
}

impl MeasuredPart {
    /// The parts that the measured values of a kit are of, in build order.
    ///
    /// A gauge is measured on what its points are corners or ends of, as far as that is made by then: the first bent part with its
    /// opposite hand, and what is put in place before the step at which it is measured.
    pub(super) fn all(design: &Design, kit: &OneKit, frame: &Frame, fit_up: &FitUp) -> Vec<Self> {
        let mut parts: Vec<Self> =
            frame.members.iter().map(|member| Self { member: member.id.clone(), values: Vec::new() }).collect();
        for (name, gauge) in design.gauges.iter().flatten() {
            let Some(&measured) = kit.measured.get(name) else { continue };
            let moved: BTreeSet<&str> = gauge.moves.keys().map(String::as_str).collect();
            let hangs = |at: usize| hangs_on(&design.members[frame.members[at].source], &moved);
            let hanging: Vec<usize> = (0..frame.members.len()).filter(|&at| hangs(at)).collect();
            let bent = hanging.iter().copied().find(|&at| !frame.members[at].path.arcs.is_empty());
            let other = bent.and_then(|at| frame.members[at].opposite);
            let step = fit_up.steps.iter().find(|step| step.gauges.iter().any(|known| known.name == *name));
            let placed = |at: usize| fit_up.placed_at(&frame.members[at].id);
            let is_placed = |at: usize| step.zip(placed(at)).is_some_and(|(step, placed)| placed < step.number);
            for at in hanging {
                if Some(at) == bent || Some(at) == other || is_placed(at) {
                    let nominal = gauge.nominal.get();
                    parts[at].values.push(MeasuredValue { gauge: name.clone(), measured, nominal });
                }
            }
        }
        parts.retain(|part| !part.values.is_empty());
        parts
    }
}
