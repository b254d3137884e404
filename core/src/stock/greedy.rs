//! A plan at once: one well-filled bar after the other.

use super::budget::Budget;
use super::problem::{Cutting, Pattern, Problem, take, times};

/// Steps of the search for one bar.
const STEPS: u32 = 3_000;

/// Steps of the search for one bar when time is up.
const HASTY_STEPS: u32 = 40;

/// Cuts what is wanted from the bars there are. Gives `None` when it runs out of bars.
pub fn greedy(problem: &Problem, demand: &[u32], bars: &[u32], budget: &mut Budget) -> Option<Cutting> {
    let (mut demand, mut bars) = (demand.to_vec(), bars.to_vec());
    let mut cutting = Cutting::new();
    while demand.iter().any(|&count| count > 0) {
        let steps = if budget.spent() { HASTY_STEPS } else { STEPS };
        let (pattern, _) = (0..bars.len())
            .filter(|&bar| bars[bar] > 0)
            .filter_map(|bar| fullest(problem, &demand, bar, steps))
            .min_by(|a, b| {
                let (a_cost, b_cost) = (problem.bars[a.0.bar].cost, problem.bars[b.0.bar].cost);
                // A bar that takes all that is left is worth what it costs; others are compared by what a length cut costs.
                let worth = i128::from(a_cost) * i128::from(b.1);
                worth.cmp(&(i128::from(b_cost) * i128::from(a.1))).then(a.0.bar.cmp(&b.0.bar))
            })?;
        let count = times(&pattern, &demand, &bars).max(1);
        take(&pattern, count, &mut demand, &mut bars);
        cutting.push((pattern, count));
    }
    Some(cutting)
}

/// The fullest cutting of one bar that has the longest part it can take, and the room used.
fn fullest(problem: &Problem, demand: &[u32], bar: usize, steps: u32) -> Option<(Pattern, i64)> {
    let room = problem.bars[bar].room;
    let first = (0..demand.len()).find(|&item| demand[item] > 0 && problem.items[item].size <= room)?;
    let mut search = Search { problem, demand, left: steps, least: i64::MAX, best: None, path: Vec::new() };
    search.go(first, room);
    search.best.map(|cuts| (Pattern { bar, cuts }, room - search.least))
}

struct Search<'a> {
    problem: &'a Problem,
    demand: &'a [u32],
    left: u32,
    least: i64,
    best: Option<Vec<(usize, u32)>>,
    path: Vec<(usize, u32)>,
}

impl Search<'_> {
    fn go(&mut self, from: usize, rest: i64) {
        self.left = self.left.saturating_sub(1);
        if !self.path.is_empty() && rest < self.least && self.problem.ends_well(rest) {
            self.least = rest;
            self.best = Some(self.path.clone());
        }
        for item in from..self.demand.len() {
            let size = self.problem.items[item].size;
            let most = i64::from(self.demand[item]).min(rest / size);
            for count in (1..=most).rev() {
                if self.left == 0 || self.least == 0 {
                    return;
                }
                self.path.push((item, u32::try_from(count).unwrap_or(u32::MAX)));
                self.go(item + 1, rest - count * size);
                self.path.pop();
            }
            // The first part is always cut: it is the longest, and the hardest to place later.
            if self.path.is_empty() && self.best.is_some() {
                return;
            }
        }
    }
}
