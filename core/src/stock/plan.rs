//! The answer: patterns with the names of parts.

use super::model::{Model, UNITS};
use super::nest::Laid;
use super::problem::{Cutting, Pattern};
use super::request::Request;
use super::reserve::kept;
use super::saw::{SawCut, saw};
use super::trail::{Placed, Row};
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
    /// What the best plan found costs in which no two parts share a sloped cut; absent where no part is mitred.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub cost_without_nesting: Option<f64>,
    /// Where the material goes; only in a full answer.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub totals: Option<PlanTotals>,
}

/// Bars that are cut alike.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema), schema(as = StockPlanPattern))]
pub struct PlanPattern {
    /// Length of each bar, mm.
    pub stock_length: f64,
    /// How many bars.
    pub count: u32,
    /// Parts from the trimmed end on: longest first, or in the order in which they share cuts.
    pub cuts: Vec<PlanCut>,
    /// What is left of each bar after its last cut, mm.
    pub remnant: f64,
    /// What only a full answer says.
    #[serde(flatten)]
    pub sawing: Option<Sawing>,
}

/// How bars of a pattern are sawn.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema), schema(as = StockPlanSawing))]
pub struct Sawing {
    /// Whether the remnant is worth keeping.
    pub keep_remnant: bool,
    /// Bundles in which the bars are cut.
    pub bundles: u32,
    /// Strokes of the saw: bundles times the cuts of a bar.
    pub strokes: u32,
    /// What the blade takes of each bar after its trim, mm.
    pub kerf: f64,
    /// Every cut of a bar, from the trimmed end on.
    pub saw: Vec<SawCut>,
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

/// Where the length of all bars goes, mm.
#[derive(Debug, Clone, PartialEq, Default, Serialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema), schema(as = StockPlanTotals))]
pub struct PlanTotals {
    /// All bars.
    pub stock: f64,
    /// In parts, with the wedges beside sloped cuts that are not shared.
    pub parts: f64,
    /// Trimmed off first ends.
    pub trim: f64,
    /// Taken by the blade.
    pub kerf: f64,
    /// Left of bars and too short to keep.
    pub offcuts: f64,
    /// Remnants worth keeping.
    pub remnants: f64,
    /// How many those are.
    pub remnants_kept: u32,
    /// Strokes of the saw.
    pub strokes: u32,
}

/// The cutting as a plan, the longest parts of each bar first.
pub fn plan(request: &Request, model: &Model, mut cutting: Cutting, bound: i64) -> Plan {
    cutting.sort_by_cached_key(|(pattern, count)| (kept(&model.problem, pattern), pattern.clone(), *count));
    let straight = |pattern: &Pattern| {
        let each = pattern.cuts.iter().flat_map(|&(item, count)| std::iter::repeat_n(item, count as usize));
        let parts: Vec<Placed> = each.map(|item| Placed { item, flipped: false }).collect();
        let lengths: i64 = parts.iter().map(|placed| model.kinds[placed.item].length + model.saw.kerf).sum();
        Laid { bar: pattern.bar, row: Row { parts, used: lengths - model.saw.kerf } }
    };
    let bars: Vec<(Laid, u32)> = cutting.iter().map(|(pattern, count)| (straight(pattern), *count)).collect();
    written(request, model, &bars, bound)
}

/// Laid-out bars as a plan.
pub fn nested_plan(request: &Request, model: &Model, mut bars: Vec<Laid>, bound: i64, apart: Option<i64>) -> Plan {
    bars.sort_by_cached_key(|laid| (model.room(laid.bar) - laid.row.used, laid.bar, laid.row.parts.clone()));
    let bars: Vec<(Laid, u32)> = bars.into_iter().map(|laid| (laid, 1)).collect();
    Plan { cost_without_nesting: apart.map(|cost| cost as f64 / UNITS), ..written(request, model, &bars, bound) }
}

fn written(request: &Request, model: &Model, bars: &[(Laid, u32)], bound: i64) -> Plan {
    let mut left: Vec<Vec<(usize, u32)>> = model
        .parts
        .iter()
        .map(|parts| parts.iter().map(|&part| (part, request.parts[part].count)).rev().collect())
        .collect();
    let mut patterns: Vec<PlanPattern> = Vec::new();
    let mut same: Option<(&Laid, Vec<usize>)> = None;
    for (laid, count) in bars {
        for _ in 0..*count {
            let parts = named(laid, &mut left);
            match (patterns.last_mut(), &same) {
                (Some(last), Some((before, named))) if *named == parts && is_alike(request, model, before, laid) => {
                    last.count += 1;
                }
                _ => patterns.push(pattern(request, model, laid, &parts)),
            }
            same = Some((laid, parts));
        }
    }
    let cost: i64 = bars.iter().map(|(laid, count)| model.problem.bars[laid.bar].cost * i64::from(*count)).sum();
    let bound = bound.min(cost);
    let mut plan = Plan {
        bars: bars.iter().map(|(_, count)| count).sum(),
        cost: cost as f64 / UNITS,
        bound: bound as f64 / UNITS,
        optimal: bound >= cost,
        patterns,
        cost_without_nesting: None,
        totals: None,
    };
    if request.in_full() {
        plan.sum_up(request, model);
    }
    plan
}

/// Whether two bars are one pattern. Bars of one length may come from two entries of the stock.
fn is_alike(request: &Request, model: &Model, a: &Laid, b: &Laid) -> bool {
    length(request, model, a) == length(request, model, b) && a.row == b.row
}

fn pattern(request: &Request, model: &Model, laid: &Laid, parts: &[usize]) -> PlanPattern {
    let mut cuts: Vec<PlanCut> = Vec::new();
    for &part in parts {
        let id = &request.parts[part].id;
        match cuts.last_mut() {
            Some(last) if last.id == *id => last.count += 1,
            _ => cuts.push(PlanCut { id: id.clone(), count: 1 }),
        }
    }
    let ids: Vec<&str> = parts.iter().map(|&part| request.parts[part].id.as_str()).collect();
    let sawn = saw(model, &laid.row, model.room(laid.bar), &ids);
    let remnant = sawn.rest.max(0) as f64 / UNITS;
    let sawing = request.in_full().then(|| Sawing {
        keep_remnant: remnant > 0.0 && request.min_remnant.is_some_and(|least| remnant >= least),
        bundles: 0,
        strokes: 0,
        kerf: sawn.kerf as f64 / UNITS,
        saw: sawn.cuts,
    });
    PlanPattern { stock_length: length(request, model, laid), count: 1, cuts, remnant, sawing }
}

impl Plan {
    /// Counts bundles and strokes, and sums up where the material goes.
    fn sum_up(&mut self, request: &Request, model: &Model) {
        let mut totals = PlanTotals::default();
        for pattern in &mut self.patterns {
            let Some(sawing) = &mut pattern.sawing else { continue };
            sawing.bundles = pattern.count.div_ceil(request.bundle.unwrap_or(1));
            sawing.strokes = sawing.bundles * u32::try_from(sawing.saw.len()).unwrap_or(u32::MAX);
            let bars = f64::from(pattern.count);
            totals.strokes += sawing.strokes;
            totals.stock += bars * pattern.stock_length;
            totals.trim += bars * model.saw.trim as f64 / UNITS;
            totals.kerf += bars * sawing.kerf;
            if sawing.keep_remnant {
                totals.remnants += bars * pattern.remnant;
                totals.remnants_kept += pattern.count;
            } else {
                totals.offcuts += bars * pattern.remnant;
            }
        }
        totals.parts = totals.stock - totals.trim - totals.kerf - totals.offcuts - totals.remnants;
        self.totals = Some(totals.rounded());
    }
}

impl PlanTotals {
    fn rounded(self) -> Self {
        let figure = |value: f64| (value * 1e4).round() / 1e4 + 0.0;
        Self {
            stock: figure(self.stock),
            parts: figure(self.parts),
            trim: figure(self.trim),
            kerf: figure(self.kerf),
            offcuts: figure(self.offcuts),
            remnants: figure(self.remnants),
            ..self
        }
    }
}

fn length(request: &Request, model: &Model, laid: &Laid) -> f64 {
    request.stock[model.stock[laid.bar]].length
}

/// Gives the places of one bar to parts of their kind that are still wanted.
fn named(laid: &Laid, left: &mut [Vec<(usize, u32)>]) -> Vec<usize> {
    let mut parts = Vec::with_capacity(laid.row.parts.len());
    for placed in &laid.row.parts {
        let Some((part, still)) = left[placed.item].last_mut() else { continue };
        parts.push(*part);
        *still -= 1;
        if *still == 0 {
            left[placed.item].pop();
        }
    }
    parts
}
