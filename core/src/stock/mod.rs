//! The stock plan: which bars to buy or take from the rack, and how to cut parts of one section from them.
//!
//! Rules. The trim is lost once, at the first end of each bar. The kerf is lost between neighbouring parts, and after the last one unless
//! it ends flush with the bar; a last cut with less than its whole width on the bar is not planned. Of stock with a count no more is used
//! than there is. The plan with the least price is wanted, or the one with the least length of bars where they have no price; of those
//! the one whose fullest bar keeps most, which is searched for and not proven.
//!
//! Mitres. A straight part may have a plane cut at each end; its length is that from long point to long point, its section says how deep
//! the cut runs. The kerf is the blade's, square to its side, so a sloped cut takes kerf / cos of its angle along the bar. Neighbours
//! whose facing cuts are planes of one angle share that cut: from the first part's far end to the second's they take both lengths less
//! the depth of the mitre plus the blade's width along the bar. Parts may be flipped end for end; a round part may be turned to any clock
//! angle, a square one by quarter turns, a rectangular one by half turns, so that there only mitres across the same sides meet. Between
//! two ends that share no cut the wider of the two blades' widths is lost. The first part's long point stands at the trim; a sloped first
//! cut trims the bar as well. The kerf after the last part is that of its own cut. The bound counts every sloped end as shared; where bars
//! have ends left over it cannot be reached, so such a plan is often the best there is without being called optimal.
//!
//! Bundles. Equal bars are cut together; a pattern takes its bars divided by the bundle, rounded up, times the cuts of a bar. A remnant
//! is kept when it is as long as the shortest worth keeping. Neither changes which plan is best.
//!
//! Everything is counted in whole ten-thousandths of a millimetre and of money; the same request gives the same plan unless it is cut short.

use crate::words::findings::stock::StockFault;
mod budget;
mod counts;
mod dive;
mod ends;
mod exact;
mod greedy;
mod knapsack;
mod model;
mod nest;
mod plan;
mod problem;
mod relax;
mod request;
mod reserve;
mod saw;
mod search;
mod simplex;
mod trail;

pub use budget::Progress;
pub use plan::{Plan, PlanCut, PlanPattern, PlanTotals, Sawing};
pub use request::{
    MOST_BUNDLE, MOST_LENGTH, MOST_PART_ENTRIES, MOST_PARTS, MOST_PRICE, MOST_SECONDS, MOST_STOCK_ENTRIES, Mitre,
    RectSize, Request, RoundSize, STEEPEST_MITRE, Size, Stock, StockError, USUAL_SECONDS, WantedPart,
};
pub use saw::{EndName, SawCut, SawnEnd};

use budget::Budget;
use search::Role;

/// Questions asked before the best plan so far is taken: the same plan on every machine, within a few milliseconds for a kit.
const QUESTIONS: u32 = 1_600;

/// The plan that paper and files show.
///
/// # Errors
/// As [`solve`].
pub fn paper_plan(request: &Request) -> Result<Plan, StockError> {
    let mut left = QUESTIONS;
    solve(request, &mut |_| {
        left = left.saturating_sub(1);
        left == 0
    })
}

/// Plans how to cut the parts of a request. `watch` is told again and again how far the search is, and says whether to give the best plan
/// found so far.
///
/// # Errors
/// [`StockError`] when the request cannot be planned: values out of bounds, a part longer than any bar, too few bars.
pub fn solve(request: &Request, watch: &mut dyn FnMut(Progress) -> bool) -> Result<Plan, StockError> {
    let model = model::model(request)?;
    let mut budget = Budget::new(watch);
    let (plan, bound) = if request.is_mitred() {
        let nest::Nested { best, bound, apart } = nest::nest(&model, &mut budget);
        let best = best.map(|bars| reserve::spread_laid(&model, bars, &mut budget));
        (best.map(|bars| plan::nested_plan(request, &model, bars, bound.unwrap_or(0), apart)), bound)
    } else {
        let outcome = search::search(&model.problem, Role::Plan, &mut budget);
        let best = outcome.best.map(|best| reserve::spread(&model.problem, best, &mut budget));
        (best.map(|best| plan::plan(request, &model, best, outcome.bound.unwrap_or(0))), outcome.bound)
    };
    match (plan, bound) {
        (Some(plan), _) => Ok(plan),
        (None, None) => Err(StockError::new("stock-too-few", "/stock", StockFault::TooFew)),
        (None, Some(_)) => Err(StockError::new("stock-none-found", "/stock", StockFault::NoneFound)),
    }
}
