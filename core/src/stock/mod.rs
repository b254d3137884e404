//! The stock plan: which bars to buy or take from the rack, and how to cut parts of one section from them.
//!
//! Rules. The trim is lost once, at the first end of each bar. The kerf is lost between neighbouring parts, and after the last one unless
//! it ends flush with the bar; a last cut with less than its whole width on the bar is not planned. Of stock with a count no more is used
//! than there is. The plan with the least price is wanted, or the one with the least length of bars where they have no price.
//!
//! Everything is counted in whole ten-thousandths of a millimetre and of money; the same request gives the same plan unless it is cut short.

mod budget;
mod counts;
mod dive;
mod exact;
mod greedy;
mod knapsack;
mod model;
mod plan;
mod problem;
mod relax;
mod request;
mod search;
mod simplex;

pub use plan::{Plan, PlanCut, PlanPattern};
pub use request::{
    MOST_LENGTH, MOST_PART_ENTRIES, MOST_PARTS, MOST_PRICE, MOST_SECONDS, MOST_STOCK_ENTRIES, Part, Request, Stock,
    StockError, USUAL_SECONDS,
};

/// Plans how to cut the parts of a request. `stop` is asked again and again whether to give the best plan found so far.
///
/// # Errors
/// [`StockError`] when the request cannot be planned: values out of bounds, a part longer than any bar, too few bars.
pub fn solve(request: &Request, stop: &mut dyn FnMut() -> bool) -> Result<Plan, StockError> {
    let model = model::model(request)?;
    let outcome = search::search(&model.problem, stop);
    match (outcome.best, outcome.bound) {
        (Some(cutting), bound) => Ok(plan::plan(request, &model, &cutting, bound.unwrap_or(0))),
        (None, None) => Err(StockError::new(
            "stock-too-few",
            "/stock",
            "The parts cannot all be cut from these bars. Add bars, or stock without a count.",
        )),
        (None, Some(_)) => Err(StockError::new(
            "stock-none-found",
            "/stock",
            "No way to cut all parts from these bars was found. Add bars, or give more time.",
        )),
    }
}
