//! The whole search: which numbers of bars, and how to cut them.
//!
//! The cheapest numbers of bars that no proof forbids are tried. Where the relaxation for them is short of parts it gives a new proof,
//! which forbids them and others. Else a cutting is looked for; found, it is the best there is. So the cost of the first numbers that
//! could not be decided is a bound on every plan.

use super::budget::Budget;
use super::counts::{Cheapest, Knowledge, at_least, cheapest};
use super::dive::{Dive, Effort};
use super::exact::{Packing, pack};
use super::greedy::greedy;
use super::model::UNITS;
use super::problem::{Cutting, Problem, take};
use super::relax::{Goal, Pool, Proof, relax};

/// Rounds of growing effort.
const ROUNDS: u32 = 7;

/// Numbers of bars tried in one round.
const TRIES: usize = 24;

/// The best cutting and what is proven of all.
pub struct Outcome {
    /// Cut so; `None` when no cutting was found.
    pub best: Option<Cutting>,
    /// No cutting costs less; `None` when there is none at all.
    pub bound: Option<i64>,
}

/// What a search is for, and so what of it is told.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Role {
    /// It gives the plan: cost and bound.
    Plan,
    /// Its cuttings may not hold on the saw, but none that do cost less: the bound only.
    Bound,
    /// Neither.
    Trial,
}

struct Search<'a, 'b> {
    role: Role,
    problem: &'a Problem,
    demand: Vec<u32>,
    pool: Pool,
    knowledge: Knowledge,
    best: Option<Cutting>,
    cost: i64,
    bound: i64,
    budget: &'a mut Budget<'b>,
}

/// Most bars for which all is searched through.
const SEARCHED: u32 = 40;

/// What trying some numbers of bars came to.
enum Tried {
    Cut,
    Forbidden,
    Open,
}

/// Looks for the cheapest cutting until it is proven or the budget is spent.
pub fn search(problem: &Problem, role: Role, budget: &mut Budget) -> Outcome {
    let parts: i64 = problem.items.iter().map(|item| i64::from(item.demand)).sum();
    let ceiling = parts * problem.bars.iter().map(|bar| bar.cost).max().unwrap_or(0) + 1;
    let mut search = Search {
        role,
        problem,
        demand: problem.demand(),
        pool: Pool::default(),
        knowledge: Knowledge::default(),
        best: None,
        cost: ceiling,
        bound: 0,
        budget,
    };
    search.start();
    for round in 0..ROUNDS {
        if search.round(round) || search.budget.spent() {
            break;
        }
    }
    let bound = search.bound.min(search.cost);
    let bound = (search.best.is_some() || bound < ceiling).then_some(bound);
    Outcome { best: search.best, bound }
}

impl Search<'_, '_> {
    /// A first plan, and the relaxation of the whole.
    fn start(&mut self) {
        let (demand, most) = (self.demand.clone(), self.problem.most());
        let sizes = self.problem.items.iter().map(|item| item.size).collect();
        let rooms = self.problem.bars.iter().map(|bar| bar.room).collect();
        self.knowledge.proofs.push(Proof { values: sizes, holds: rooms });
        if let Some(cutting) = greedy(self.problem, &demand, &most, self.budget) {
            self.offer(cutting);
        }
        let relaxed = relax(self.problem, &demand, &most, Goal::Cost, &mut self.pool, self.budget);
        if let Some(relaxed) = relaxed {
            self.knowledge.proofs.push(relaxed.proof);
        }
        self.bound = at_least(self.problem, &self.knowledge);
        if let Cheapest::Found(counts) = self.next(&[], self.bound) {
            self.bound = self.problem.cost_of(&counts);
        }
        self.tell();
    }

    /// Keeps a cutting that is cheaper than the best.
    fn offer(&mut self, cutting: Cutting) {
        let cost = self.problem.cost(&cutting);
        if self.best.is_none() || cost < self.cost {
            for (pattern, _) in &cutting {
                self.pool.add(pattern.clone());
            }
            self.cost = cost;
            self.best = Some(cutting);
            self.tell();
        }
    }

    fn tell(&mut self) {
        if self.role != Role::Trial {
            self.budget.progress.bound = self.budget.progress.bound.max(self.bound as f64 / UNITS);
        }
        if self.role == Role::Plan && self.best.is_some() {
            self.budget.progress.best = Some(self.cost as f64 / UNITS);
        }
    }

    fn next(&self, skipped: &[Vec<u32>], least: i64) -> Cheapest {
        cheapest(self.problem, &self.knowledge, skipped, least, self.cost)
    }

    /// One round over the open numbers of bars. Says whether all is decided.
    fn round(&mut self, round: u32) -> bool {
        let mut open: Vec<Vec<u32>> = Vec::new();
        let mut least = self.bound;
        let mut tries = 0;
        loop {
            let (counts, first) = match self.next(&open, least) {
                Cheapest::Found(counts) => (counts, open.is_empty() && least <= self.bound),
                Cheapest::Guessed(counts) => (counts, false),
                Cheapest::None if open.is_empty() && least <= self.bound => {
                    self.bound = self.cost;
                    return true;
                }
                Cheapest::None if least > self.bound => {
                    least = self.bound;
                    continue;
                }
                Cheapest::None | Cheapest::Unknown => return false,
            };
            let cost = self.problem.cost_of(&counts);
            if first {
                self.bound = self.bound.max(cost);
                self.tell();
            }

            match self.attempt(&counts, round) {
                Tried::Cut if cost <= self.bound => {
                    self.bound = self.cost;
                    return true;
                }
                Tried::Cut | Tried::Forbidden => {}
                Tried::Open => {
                    open.push(counts);
                    tries += 1;
                    // After a failure half-way to the best plan, then from below again.
                    least = if tries % 2 == 1 { cost + (self.cost - cost) / 2 } else { self.bound };
                }
            }
            if tries >= TRIES || self.budget.spent() {
                return false;
            }
        }
    }

    /// Tries to cut everything from these bars.
    fn attempt(&mut self, counts: &[u32], round: u32) -> Tried {
        let demand = self.demand.clone();
        let relaxed = relax(self.problem, &demand, counts, Goal::Shortage, &mut self.pool, self.budget);
        let Some(relaxed) = relaxed else { return Tried::Open };
        let short = relaxed.proof.slack(&demand, counts) < 0;
        if short {
            self.knowledge.proofs.push(relaxed.proof);
            return Tried::Forbidden;
        }
        let power = 1 << round;
        let effort =
            Effort { relaxations: (100 * power).min(1_000), turns: 1 + round, share: power, steps: 20_000 * power };
        let mut dive = Dive {
            problem: self.problem,
            pool: &mut self.pool,
            proofs: &self.knowledge.proofs,
            effort,
            budget: self.budget,
            furthest: None,
        };
        if let Some(cutting) = dive.go(&demand, counts) {
            self.offer(cutting);
            return Tried::Cut;
        }
        if let Some(furthest) = dive.furthest {
            self.complete(furthest);
        }
        let steps = if counts.iter().sum::<u32>() <= SEARCHED { 200_000 * power * power } else { 0 };
        match pack(self.problem, &demand, counts, &self.knowledge.proofs, steps, self.budget) {
            Packing::Found(cutting) => {
                self.offer(cutting);
                Tried::Cut
            }
            Packing::Impossible => {
                self.knowledge.refuted.push(counts.to_vec());
                Tried::Forbidden
            }
            Packing::Open => Tried::Open,
        }
    }

    /// Makes a plan of a cutting that has only some of the parts.
    fn complete(&mut self, mut cutting: Cutting) {
        let (mut demand, mut bars) = (self.demand.clone(), self.problem.most());
        for (pattern, count) in &cutting {
            take(pattern, *count, &mut demand, &mut bars);
        }
        if let Some(rest) = greedy(self.problem, &demand, &bars, self.budget) {
            cutting.extend(rest);
            self.offer(cutting);
        }
    }
}
