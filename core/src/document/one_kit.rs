//! The design as one kit has it: what its choices leave out is taken out, and points lie where its builder measured.

use super::design::Design;
use super::finding::{Finding, Findings};
use super::kit::When;
use super::names::{nearest_in_design, other_hand};
use super::point::Point;
use crate::words::findings::document::DocumentFault;
use std::collections::BTreeMap;

/// What a design does not know of a kit: the choices made when it was sold, and what its builder measured.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct OneKit {
    /// Choice by option; an option that is not here has its first choice.
    pub choices: BTreeMap<String, String>,
    /// Measured value by gauge, mm.
    pub measured: BTreeMap<String, f64>,
}

impl OneKit {
    /// Makes the design this kit's: plates, holes and steps that its choices leave out are taken out, and points are moved by
    /// its measured values. Answers which members of the list are there.
    ///
    /// Adds an error for an option, choice or gauge that the design does not have and for a value outside its limits.
    pub(crate) fn settle(&self, design: &mut Design, findings: &mut Findings) -> Vec<bool> {
        self.move_points(design, findings);
        let choices = self.whole(design, findings);
        let there = |when: &Option<When>| {
            let mut when = when.iter().flatten();
            when.all(|(option, choice)| choices.get(option).is_some_and(|chosen| chosen == choice.as_str()))
        };
        if let Some(plates) = &mut design.plates {
            plates.retain(|_, plate| there(&plate.when));
        }
        if let Some(holes) = &mut design.holes {
            holes.retain(|_, hole| there(&hole.when));
        }
        if let Some(steps) = &mut design.steps {
            steps.retain(|step| there(&step.when));
        }
        design.members.iter().map(|member| there(&member.when)).collect()
    }

    /// A choice for every option.
    fn whole(&self, design: &Design, findings: &mut Findings) -> BTreeMap<String, String> {
        let none = BTreeMap::new();
        let options = design.options.as_ref().unwrap_or(&none);
        for (name, choice) in &self.choices {
            let Some(option) = options.get(name) else {
                let fact =
                    DocumentFault::UnknownOption { option: name, advice: nearest_in_design(name, options.keys()) };
                findings.push(Finding::error("unknown-option", "/options".into(), fact));
                continue;
            };
            if !option.choices.iter().any(|known| known.as_str() == choice) {
                let known: Vec<String> = option.choices.iter().map(|known| known.as_str().to_owned()).collect();
                let fact = DocumentFault::UnknownChoice {
                    option: name,
                    choice,
                    advice: nearest_in_design(choice, known.iter()),
                };
                findings.push(Finding::error("unknown-choice", format!("/options/{name}"), fact));
            }
        }
        self.settled_choices(design)
    }

    /// A choice for every option of the design: the kit's, else the first.
    #[must_use]
    pub fn settled_choices(&self, design: &Design) -> BTreeMap<String, String> {
        let settled = design.options.iter().flatten().filter_map(|(name, option)| {
            let first = option.choices.first()?.as_str().to_owned();
            Some((name.clone(), self.choices.get(name).cloned().unwrap_or(first)))
        });
        settled.collect()
    }

    fn move_points(&self, design: &mut Design, findings: &mut Findings) {
        let gauges = design.gauges.clone().unwrap_or_default();
        for (name, &measured) in &self.measured {
            let Some(gauge) = gauges.get(name) else {
                let fact = DocumentFault::UnknownGauge { gauge: name, advice: nearest_in_design(name, gauges.keys()) };
                findings.push(Finding::error("unknown-gauge", "/gauges".into(), fact));
                continue;
            };
            let (least, most) = (gauge.least.get(), gauge.most.get());
            if !(least..=most).contains(&measured) {
                let fact = DocumentFault::GaugeOutside { measured, name, least, most };
                findings.push(Finding::error("gauge-outside", format!("/gauges/{name}"), fact));
                continue;
            }
            let over = measured - gauge.nominal.get();
            for (point, way) in &gauge.moves {
                shift(design, point, way.0.map(|component| component * over));
            }
        }
    }
}

/// Moves a point by name; the partner of a point that is given once moves with it, mirrored.
fn shift(design: &mut Design, name: &str, by: [f64; 3]) {
    if let Some(Point(at)) = design.points.get_mut(name) {
        for (at, by) in at.iter_mut().zip(by) {
            *at += by;
        }
    } else if let Some(Point(at)) = other_hand(name).and_then(|partner| design.points.get_mut(&partner)) {
        for (at, by) in at.iter_mut().zip([by[0], -by[1], by[2]]) {
            *at += by;
        }
    }
}
