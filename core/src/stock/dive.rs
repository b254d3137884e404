//! A cutting from given bars by rounding: the relaxation is solved again after each bar that is settled.

use super::budget::Budget;
use super::exact::{Packing, pack};
use super::problem::{Cutting, Problem, take, times};
use super::relax::{Goal, Pool, Proof, relax};

/// With this many bars left the rest is searched through.
const FEW: u32 = 7;

/// How much work a dive may take.
#[derive(Debug, Clone, Copy)]
pub struct Effort {
    /// Relaxations solved.
    pub relaxations: u32,
    /// Second choices followed on one way down.
    pub turns: u32,
    /// Of the bars left, one in this many is settled before the relaxation is solved again.
    pub share: u32,
    /// Steps of the search at the bottom.
    pub steps: u32,
}

/// One dive and all it needs.
pub struct Dive<'a, 'b> {
    /// The problem.
    pub problem: &'a Problem,
    /// Columns so far.
    pub pool: &'a mut Pool,
    /// What is proven.
    pub proofs: &'a [Proof],
    /// What may still be spent.
    pub effort: Effort,
    /// When to stop.
    pub budget: &'a mut Budget<'b>,
    /// The most that was settled before some way down failed.
    pub furthest: Option<Cutting>,
}

impl Dive<'_, '_> {
    /// Looks for a cutting of `demand` from `bars`.
    pub fn go(&mut self, demand: &[u32], bars: &[u32]) -> Option<Cutting> {
        let mut settled = Cutting::new();
        self.down(demand.to_vec(), bars.to_vec(), &mut settled, self.effort.turns).then_some(settled)
    }

    fn down(&mut self, mut demand: Vec<u32>, mut bars: Vec<u32>, settled: &mut Cutting, turns: u32) -> bool {
        let depth = settled.len();
        if bars.iter().sum::<u32>() <= FEW {
            match pack(self.problem, &demand, &bars, self.proofs, self.effort.steps, self.budget) {
                Packing::Found(rest) => {
                    settled.extend(rest);
                    return true;
                }
                Packing::Impossible => return self.failed(settled, depth),
                Packing::Open => {}
            }
        }
        if demand.iter().all(|&count| count == 0) {
            return true;
        }
        if self.effort.relaxations == 0 || self.budget.spent() {
            return self.failed(settled, depth);
        }
        self.effort.relaxations -= 1;
        let relaxed = relax(self.problem, &demand, &bars, Goal::Shortage, self.pool, self.budget);
        let Some(relaxed) = relaxed else { return self.failed(settled, depth) };
        if relaxed.short > 1e-3 || relaxed.taken.is_empty() {
            return self.failed(settled, depth);
        }
        let mut allowed = (bars.iter().sum::<u32>() / self.effort.share).max(1);
        let mut whole = false;
        for &(column, level) in &relaxed.taken {
            let pattern = self.pool.patterns[column].clone();
            let count = times(&pattern, &demand, &bars).min((level + 1e-6) as u32).min(allowed);
            if count > 0 {
                take(&pattern, count, &mut demand, &mut bars);
                settled.push((pattern, count));
                allowed -= count;
                whole = true;
            }
        }
        if whole {
            return self.down(demand, bars, settled, turns) || self.failed(settled, depth);
        }
        for (turn, &(column, _)) in (0..=turns).zip(&relaxed.taken) {
            let pattern = self.pool.patterns[column].clone();
            let (mut demand, mut bars) = (demand.clone(), bars.clone());
            if times(&pattern, &demand, &bars) == 0 {
                continue;
            }
            take(&pattern, 1, &mut demand, &mut bars);
            settled.push((pattern, 1));
            if self.down(demand, bars, settled, turns - turn) {
                return true;
            }
            settled.truncate(depth);
        }
        false
    }

    fn failed(&mut self, settled: &mut Cutting, depth: usize) -> bool {
        let cut = |cutting: &Cutting| cutting.iter().map(|(_, count)| count).sum::<u32>();
        if self.furthest.as_ref().is_none_or(|furthest| cut(furthest) < cut(settled)) {
            self.furthest = Some(settled.clone());
        }
        settled.truncate(depth);
        false
    }
}
