//! Plans in which neighbours share sloped cuts.
//!
//! The relaxed problem counts every sloped end as shared; its bound holds for all plans. Its cuttings, and those of the same problem with
//! a margin on each bar, are laid out in true lengths. Bars that do not hold give parts back, which then go where they fit. The plan
//! without shared cuts is made the same way, and the cheapest of all is given.

use super::budget::Budget;
use super::model::{Model, UNITS};
use super::problem::{Bar, Cutting, Item, Pattern, Problem};
use super::search::{Role, search};
use super::trail::{Row, fit};

/// Questions of each search and steps of the margin, round by round.
const ROUNDS: [(u64, i64); 3] = [(2_000, 3), (20_000, 9), (100_000, 27)];

/// A bar with its parts laid out.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Laid {
    /// Which bar.
    pub bar: usize,
    /// Its parts.
    pub row: Row,
}

/// The best plan and what is proven.
pub struct Nested {
    /// The bars; `None` when no plan was found.
    pub best: Option<Vec<Laid>>,
    /// No plan costs less; `None` when there is none at all.
    pub bound: Option<i64>,
    /// What a plan costs in which every part has cuts of its own.
    pub apart: Option<i64>,
}

/// Looks for the cheapest plan until it is proven or the budget is spent.
pub fn nest(model: &Model, budget: &mut Budget) -> Nested {
    let apart = Rearranged::of(model, &apart_sizes(model), |bar| model.room(bar) + model.saw.kerf, model.saw.kerf);
    let mut found = Nested { best: None, bound: Some(0), apart: None };
    for (turn, (questions, steps)) in ROUNDS.into_iter().enumerate() {
        budget.allow(questions);
        let outcome = search(&model.problem, Role::Bound, budget);
        let Some(bound) = outcome.bound else { return Nested { bound: None, ..found } };
        found.bound = found.bound.max(Some(bound));
        if let Some(cutting) = outcome.best {
            found.offer(model, &cutting, budget);
        }
        if turn == 0 || !budget.over() {
            budget.allow(questions);
            if let Some(plan) = apart.search(budget).and_then(|cutting| repaired(model, &cutting)) {
                let cost = cost(model, &plan);
                found.apart = Some(found.apart.map_or(cost, |known| known.min(cost)));
                found.keep(model, plan, budget);
            }
        }
        for margin in margins(model, steps) {
            if budget.over() || found.is_proven(model) {
                break;
            }
            let sizes: Vec<i64> = model.problem.items.iter().map(|item| item.size).collect();
            let narrow = Rearranged::of(model, &sizes, |bar| model.problem.bars[bar].room - margin, 0);
            budget.allow(questions);
            if let Some(cutting) = narrow.search(budget) {
                found.offer(model, &cutting, budget);
            }
        }
        if budget.over() || found.is_proven(model) {
            break;
        }
    }
    found
}

/// One more plan of at most that price, for bars that the model has made shorter.
pub fn again(model: &Model, price: i64, budget: &mut Budget) -> Option<Vec<Laid>> {
    let fits = |cutting: Cutting| repaired(model, &cutting).filter(|plan| cost(model, plan) <= price);
    if let Some(plan) = search(&model.problem, Role::Trial, budget).best.and_then(fits) {
        return Some(plan);
    }
    let sizes: Vec<i64> = model.problem.items.iter().map(|item| item.size).collect();
    margins(model, ROUNDS[0].1).find_map(|margin| {
        let narrow = Rearranged::of(model, &sizes, |bar| model.problem.bars[bar].room - margin, 0);
        narrow.search(budget).and_then(fits)
    })
}

impl Nested {
    fn offer(&mut self, model: &Model, cutting: &Cutting, budget: &mut Budget) {
        if let Some(plan) = repaired(model, cutting) {
            self.keep(model, plan, budget);
        }
    }

    fn keep(&mut self, model: &Model, plan: Vec<Laid>, budget: &mut Budget) {
        let price = cost(model, &plan);
        if self.best.as_ref().is_none_or(|best| price < cost(model, best)) {
            budget.progress.best = Some(price as f64 / UNITS);
            self.best = Some(plan);
        }
    }

    fn is_proven(&self, model: &Model) -> bool {
        self.best.as_ref().is_some_and(|best| Some(cost(model, best)) <= self.bound)
    }
}

/// What a plan costs.
pub fn cost(model: &Model, plan: &[Laid]) -> i64 {
    plan.iter().map(|laid| model.problem.bars[laid.bar].cost).sum()
}

/// What is kept free on each bar for cuts that trails give up: up to one and a half of the deepest, in so many steps.
fn margins(model: &Model, steps: i64) -> impl Iterator<Item = i64> {
    let deepest = model.slopes.iter().map(|slope| slope.saving + model.saw.kerf).max().unwrap_or(0).max(0);
    let steps = if deepest > 0 { steps } else { 0 };
    (1..=steps).rev().map(move |step| deepest * 3 * step / (2 * steps))
}

/// Each part with the wider of its two cuts.
fn apart_sizes(model: &Model) -> Vec<i64> {
    model.kinds.iter().map(|kind| kind.length + kind.ends[0].kerf.max(kind.ends[1].kerf)).collect()
}

/// The problem with other sizes, and so with its items in another order.
struct Rearranged {
    problem: Problem,
    /// The item of the model, by item of this problem.
    order: Vec<usize>,
}

impl Rearranged {
    fn of(model: &Model, sizes: &[i64], room: impl Fn(usize) -> i64, kerf: i64) -> Self {
        let mut order: Vec<usize> = (0..sizes.len()).collect();
        order.sort_by_key(|&item| (std::cmp::Reverse(sizes[item]), item));
        let items =
            order.iter().map(|&item| Item { size: sizes[item], demand: model.problem.items[item].demand }).collect();
        let bars =
            (0..model.problem.bars.len()).map(|bar| Bar { room: room(bar), ..model.problem.bars[bar] }).collect();
        Self { problem: Problem { items, bars, kerf }, order }
    }

    /// The best cutting found, in items of the model.
    fn search(&self, budget: &mut Budget) -> Option<Cutting> {
        let cutting = search(&self.problem, Role::Trial, budget).best?;
        let back = |(pattern, count): (Pattern, u32)| {
            let cuts = pattern.cuts.iter().map(|&(item, each)| (self.order[item], each)).collect();
            (Pattern { bar: pattern.bar, cuts }, count)
        };
        Some(cutting.into_iter().map(back).collect())
    }
}

/// A cutting laid out in true lengths, with what does not hold moved to where it does.
fn repaired(model: &Model, cutting: &Cutting) -> Option<Vec<Laid>> {
    let mut plan = Vec::new();
    let mut loose = Vec::new();
    for (pattern, count) in cutting {
        let mut items: Vec<usize> =
            pattern.cuts.iter().flat_map(|&(item, each)| std::iter::repeat_n(item, each as usize)).collect();
        let mut given = Vec::new();
        let row = loop {
            if items.is_empty() {
                break None;
            }
            let fits = fit(model, &items, model.room(pattern.bar));
            if fits.is_some() {
                break fits;
            }
            given.push(items.remove(least_loss(model, &items, model.room(pattern.bar))));
        };
        for _ in 0..*count {
            plan.extend(row.clone().map(|row| Laid { bar: pattern.bar, row }));
            loose.extend(&given);
        }
    }
    place(model, &mut plan, loose)?;
    exchange(model, &mut plan);
    Some(plan)
}

/// The place of the shortest part without which the others hold, or else of the shortest.
fn least_loss(model: &Model, items: &[usize], room: i64) -> usize {
    let mut places: Vec<usize> = (0..items.len()).collect();
    places.sort_by_key(|&place| (model.kinds[items[place]].length, place));
    places.dedup_by_key(|place| items[*place]);
    let without = |place: usize| -> Vec<usize> {
        items.iter().enumerate().filter(|(other, _)| *other != place).map(|(_, item)| *item).collect()
    };
    let enough = places.iter().copied().find(|&place| fit(model, &without(place), room).is_some());
    enough.or(places.first().copied()).unwrap_or(0)
}

/// Puts loose parts on bars of the plan that have room, and on new bars. `None` when there are too few bars.
fn place(model: &Model, plan: &mut Vec<Laid>, mut loose: Vec<usize>) -> Option<()> {
    loose.sort_by_key(|&item| (std::cmp::Reverse(model.kinds[item].length), item));
    loose.retain(|&item| !plan.iter_mut().any(|laid| laid.add(model, item)));
    while !loose.is_empty() {
        let used = used(model, plan);
        let new = (0..model.problem.bars.len())
            .filter(|&bar| used[bar] < model.problem.bars[bar].most)
            .filter_map(|bar| {
                let mut laid = Laid { bar, row: Row { parts: Vec::new(), used: 0 } };
                let mut taken = 0;
                for &item in &loose {
                    if laid.add(model, item) {
                        taken += model.kinds[item].length;
                    }
                }
                (taken > 0).then_some((laid, taken))
            })
            .min_by_key(|(laid, taken)| {
                let cost = i128::from(model.problem.bars[laid.bar].cost);
                (cost * (1 << 40) / i128::from(*taken), laid.bar)
            });
        let (laid, _) = new?;
        for placed in &laid.row.parts {
            let place = loose.iter().position(|item| *item == placed.item)?;
            loose.remove(place);
        }
        plan.push(laid);
    }
    Some(())
}

impl Laid {
    /// Puts one more part on the bar. Says whether it holds.
    fn add(&mut self, model: &Model, item: usize) -> bool {
        let sizes: i64 = self.row.parts.iter().map(|placed| model.problem.items[placed.item].size).sum();
        if sizes + model.problem.items[item].size > model.problem.bars[self.bar].room {
            return false;
        }
        let mut items = self.items();
        items.push(item);
        match fit(model, &items, model.room(self.bar)) {
            Some(row) => {
                self.row = row;
                true
            }
            None => false,
        }
    }

    fn items(&self) -> Vec<usize> {
        self.row.parts.iter().map(|placed| placed.item).collect()
    }
}

/// How many of each bar a plan uses.
fn used(model: &Model, plan: &[Laid]) -> Vec<u32> {
    let mut used = vec![0; model.problem.bars.len()];
    for laid in plan {
        used[laid.bar] += 1;
    }
    used
}

/// Takes cheaper bars where the parts hold on them.
fn exchange(model: &Model, plan: &mut [Laid]) {
    let bars = &model.problem.bars;
    let mut used = used(model, plan);
    let mut cheapest: Vec<usize> = (0..bars.len()).collect();
    cheapest.sort_by_key(|&bar| (bars[bar].cost, bar));
    for laid in plan {
        for &bar in cheapest.iter().take_while(|&&bar| bars[bar].cost < bars[laid.bar].cost) {
            if used[bar] == bars[bar].most {
                continue;
            }
            if let Some(row) = fit(model, &laid.items(), model.room(bar)) {
                used[laid.bar] -= 1;
                used[bar] += 1;
                *laid = Laid { bar, row };
                break;
            }
        }
    }
}
