//! The answer: patterns with the names of parts.

use super::model::{Model, UNITS};
use super::problem::{Cutting, Pattern};
use super::request::Request;
use serde::Serialize;

/// How to cut the parts.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema), schema(as = StockPlan))]
pub struct Plan {
    /// Bars used.
    pub bars: u32,
    /// Their price, or their length in mm where bars have no price.
    pub cost: f64,
    /// No plan costs less.
    pub bound: f64,
    /// Whether no plan can cost less than this one.
    pub optimal: bool,
    /// Equal bars together, those that leave least first.
    pub patterns: Vec<PlanPattern>,
}

/// Bars that are cut alike.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema), schema(as = StockPlanPattern))]
pub struct PlanPattern {
    /// Length of each bar, mm.
    pub stock_length: f64,
    /// How many bars.
    pub count: u32,
    /// Parts from the trimmed end on, longest first.
    pub cuts: Vec<PlanCut>,
    /// What is left of each bar after its last cut, mm.
    pub remnant: f64,
}

/// Neighbouring equal parts of a bar.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema), schema(as = StockPlanCut))]
pub struct PlanCut {
    /// Which part.
    pub id: String,
    /// How many of it on one bar.
    pub count: u32,
}

/// The cutting as a plan.
pub fn plan(request: &Request, model: &Model, cutting: &Cutting, bound: i64) -> Plan {
    let mut left: Vec<Vec<(usize, u32)>> = model
        .parts
        .iter()
        .map(|parts| parts.iter().map(|&part| (part, request.parts[part].count)).rev().collect())
        .collect();
    let mut cutting = cutting.clone();
    cutting.sort_by_cached_key(|(pattern, count)| (rest(model, pattern), pattern.clone(), *count));
    let mut patterns: Vec<PlanPattern> = Vec::new();
    for (pattern, count) in &cutting {
        for _ in 0..*count {
            let cuts = name(request, pattern, &mut left);
            match patterns.last_mut() {
                Some(last) if last.cuts == cuts && last.stock_length == length(request, model, pattern) => {
                    last.count += 1;
                }
                _ => patterns.push(PlanPattern {
                    stock_length: length(request, model, pattern),
                    count: 1,
                    cuts,
                    remnant: rest(model, pattern) as f64 / UNITS,
                }),
            }
        }
    }
    let cost = model.problem.cost(&cutting);
    Plan {
        bars: cutting.iter().map(|(_, count)| count).sum(),
        cost: cost as f64 / UNITS,
        bound: bound as f64 / UNITS,
        optimal: bound >= cost,
        patterns,
    }
}

fn length(request: &Request, model: &Model, pattern: &Pattern) -> f64 {
    request.stock[model.stock[pattern.bar]].length
}

/// Ten-thousandths of a millimetre left of a bar.
fn rest(model: &Model, pattern: &Pattern) -> i64 {
    let problem = &model.problem;
    let used: i64 = pattern.cuts.iter().map(|&(item, count)| problem.items[item].size * i64::from(count)).sum();
    (problem.bars[pattern.bar].room - used - problem.kerf).max(0)
}

/// Gives the cuts of one bar to parts of their lengths that are still wanted.
fn name(request: &Request, pattern: &Pattern, left: &mut [Vec<(usize, u32)>]) -> Vec<PlanCut> {
    let mut cuts = Vec::new();
    for &(item, count) in &pattern.cuts {
        let mut wanted = count;
        while let Some((part, still)) = left[item].last_mut().filter(|_| wanted > 0) {
            let given = wanted.min(*still);
            cuts.push(PlanCut { id: request.parts[*part].id.clone(), count: given });
            wanted -= given;
            *still -= given;
            if *still == 0 {
                left[item].pop();
            }
        }
    }
    cuts
}
