//! Of plans that cost the same the one whose fullest bar keeps most.
//!
//! A bar that must keep so much is a bar that is so much shorter. How much all bars can keep is searched for by halving, between
//! what the plan at hand keeps and the mean that no plan on its bars can exceed on all of them.

use super::budget::Budget;
use super::model::Model;
use super::nest::{Laid, again, cost};
use super::problem::{Bar, Cutting, Pattern, Problem};
use super::search::{Role, search};

/// How nearly the greatest reserve is found: a millimetre, in ten-thousandths.
const NEARLY: i64 = 10_000;

/// Questions that one try may take.
const QUESTIONS: u64 = 60;

/// Most tries.
const TRIES: u32 = 16;

/// What a bar cut so keeps, in ten-thousandths of a millimetre.
pub fn kept(problem: &Problem, pattern: &Pattern) -> i64 {
    let used: i64 = pattern.cuts.iter().map(|&(item, count)| problem.items[item].size * i64::from(count)).sum();
    (problem.bars[pattern.bar].room - used - problem.kerf).max(0)
}

/// A cutting that costs as much, and whose fullest bar keeps at least as much.
pub fn spread(problem: &Problem, cutting: Cutting, budget: &mut Budget) -> Cutting {
    let price = problem.cost(&cutting);
    let least = |cutting: &Cutting| cutting.iter().map(|(pattern, _)| kept(problem, pattern)).min().unwrap_or(0);
    let each = cutting.iter().map(|(pattern, count)| (kept(problem, pattern), *count));
    let most = upper_bound(problem, each);
    widest(cutting, least, most, budget, |by, budget| {
        // What is kept holds the last cut, whatever its width.
        let shorter = Problem { kerf: 0, bars: shortened(problem, by + problem.kerf, price), ..problem.clone() };
        search(&shorter, Role::Trial, budget).best.filter(|cutting| problem.cost(cutting) <= price)
    })
}

/// The same for bars that are laid out.
pub fn spread_laid(model: &Model, plan: Vec<Laid>, budget: &mut Budget) -> Vec<Laid> {
    let price = cost(model, &plan);
    let kept = |laid: &Laid| {
        let last = laid.row.parts.last().map_or(0, |last| model.kinds[last.item].ends[last.last()].kerf);
        (model.room(laid.bar) - laid.row.used - last).max(0)
    };
    let least = |plan: &Vec<Laid>| plan.iter().map(kept).min().unwrap_or(0);
    let most = upper_bound(&model.problem, plan.iter().map(|laid| (kept(laid), 1)));
    widest(plan, least, most, budget, |by, budget| {
        let problem = Problem { bars: shortened(&model.problem, by, price), ..model.problem.clone() };
        again(&Model { problem, ..model.clone() }, price, budget)
    })
}

/// The mean that is kept, where all bars are alike; else as long as the longest bar.
fn upper_bound(problem: &Problem, kept: impl Iterator<Item = (i64, u32)>) -> i64 {
    if problem.bars.len() > 1 {
        return problem.bars.iter().map(|bar| bar.room).max().unwrap_or(0);
    }
    let (sum, bars) =
        kept.fold((0, 0), |(sum, bars), (kept, count)| (sum + kept * i64::from(count), bars + i64::from(count)));
    sum / bars.max(1)
}

/// The bars so much shorter, no more of each than a plan of that price can have.
fn shortened(problem: &Problem, by: i64, price: i64) -> Vec<Bar> {
    let shorter = |bar: &Bar| {
        let most = if bar.cost > 0 { u32::try_from(price / bar.cost).unwrap_or(u32::MAX) } else { u32::MAX };
        Bar { room: (bar.room - by).max(0), most: bar.most.min(most), ..*bar }
    };
    problem.bars.iter().map(shorter).collect()
}

/// The best of what is found between what `first` keeps and the most that can be kept.
fn widest<T>(
    first: T,
    least: impl Fn(&T) -> i64,
    mut most: i64,
    budget: &mut Budget,
    mut attempt: impl FnMut(i64, &mut Budget) -> Option<T>,
) -> T {
    let (mut best, mut plan) = (least(&first), first);
    for _ in 0..TRIES {
        if most - best <= NEARLY || budget.over() {
            break;
        }
        let wanted = best + (most - best + 1) / 2;
        budget.allow(QUESTIONS);
        let found = attempt(wanted, budget).map(|found| (least(&found), found)).filter(|(kept, _)| *kept > best);
        match found {
            Some((kept, found)) => (best, plan) = (kept, found),
            None => most = wanted,
        }
    }
    plan
}
