//! Whether parts can be cut from given bars: bin completion (Martello and Toth 1990, chapter 8; Korf, AAAI 2002).
//!
//! The longest part left is in some bar. All fullest cuttings with it are tried, those first that lose least. A branch ends where a
//! proof says that the bars left cannot hold what is left.

use super::budget::Budget;
use super::problem::{Cutting, Pattern, Problem, take};
use super::relax::Proof;
use std::collections::HashSet;

/// Most cuttings tried at one place.
const BRANCHES: usize = 4_000;

/// Answer of a search.
pub enum Packing {
    /// Cut so.
    Found(Cutting),
    /// It cannot be done.
    Impossible,
    /// Not decided within the steps allowed.
    Open,
}

/// Searches for a cutting of exactly `demand` from at most `bars`.
pub fn pack(
    problem: &Problem,
    demand: &[u32],
    bars: &[u32],
    proofs: &[Proof],
    steps: u32,
    budget: &mut Budget,
) -> Packing {
    let sizes = problem.items.iter().map(|item| item.size).collect();
    let rooms = problem.bars.iter().map(|bar| bar.room).collect();
    let material = Proof { values: sizes, holds: rooms };
    let proofs: Vec<&Proof> = std::iter::once(&material).chain(proofs).collect();
    let slack: Vec<i64> = proofs.iter().map(|proof| proof.slack(demand, bars)).collect();
    if slack.iter().any(|&slack| slack < 0) {
        return Packing::Impossible;
    }
    let mut search =
        Search { problem, proofs, left: steps, complete: true, seen: HashSet::new(), path: Vec::new(), budget };
    if search.go(demand, bars, &slack) {
        let mut cutting = Cutting::new();
        for pattern in search.path {
            match cutting.iter_mut().find(|(known, _)| *known == pattern) {
                Some((_, count)) => *count += 1,
                None => cutting.push((pattern, 1)),
            }
        }
        Packing::Found(cutting)
    } else if search.complete {
        Packing::Impossible
    } else {
        Packing::Open
    }
}

struct Search<'a, 'b> {
    problem: &'a Problem,
    proofs: Vec<&'a Proof>,
    left: u32,
    complete: bool,
    seen: HashSet<Vec<u32>>,
    path: Vec<Pattern>,
    budget: &'a mut Budget<'b>,
}

impl Search<'_, '_> {
    fn go(&mut self, demand: &[u32], bars: &[u32], slack: &[i64]) -> bool {
        let Some(longest) = demand.iter().position(|&count| count > 0) else { return true };
        if self.left == 0 || self.budget.spent() {
            self.complete = false;
            self.left = 0;
            return false;
        }
        self.left -= 1;
        let state: Vec<u32> = demand.iter().chain(bars).copied().collect();
        if !self.seen.insert(state) {
            return false;
        }
        let mut ways: Vec<(i64, Pattern, Vec<i64>)> = Vec::new();
        for (bar, &count) in bars.iter().enumerate() {
            if count == 0 || self.problem.bars[bar].room < self.problem.items[longest].size {
                continue;
            }
            let mut fullest = Fullest {
                problem: self.problem,
                demand,
                bar,
                most_rest: slack[0],
                path: Vec::new(),
                found: Vec::new(),
                left: self.left,
            };
            fullest.go(longest, self.problem.bars[bar].room);
            self.left = fullest.left;
            self.complete &= self.left > 0;
            for (rest, pattern) in fullest.found {
                let left: Vec<i64> =
                    self.proofs.iter().zip(slack).map(|(proof, slack)| slack - proof.loss(&pattern)).collect();
                if left.iter().any(|&left| left < 0) {
                    continue;
                }
                ways.push((rest, pattern, left));
            }
        }
        ways.sort_by(|a, b| (a.0, &a.1).cmp(&(b.0, &b.1)));
        if ways.len() > BRANCHES {
            ways.truncate(BRANCHES);
            self.complete = false;
        }
        for (_, pattern, left) in ways {
            let (mut demand, mut bars) = (demand.to_vec(), bars.to_vec());
            take(&pattern, 1, &mut demand, &mut bars);
            self.path.push(pattern);
            if self.go(&demand, &bars, &left) {
                return true;
            }
            self.path.pop();
            if self.left == 0 {
                self.complete = false;
                return false;
            }
        }
        false
    }
}

/// All cuttings of a bar with the longest part to which no part left over could be added.
struct Fullest<'a> {
    problem: &'a Problem,
    demand: &'a [u32],
    bar: usize,
    most_rest: i64,
    path: Vec<(usize, u32)>,
    found: Vec<(i64, Pattern)>,
    left: u32,
}

impl Fullest<'_> {
    fn go(&mut self, from: usize, rest: i64) {
        self.left = self.left.saturating_sub(1);
        if self.left == 0 {
            return;
        }
        if self.path.is_empty() {
            let size = self.problem.items[from].size;
            for count in (1..=i64::from(self.demand[from]).min(rest / size)).rev() {
                self.path.push((from, u32::try_from(count).unwrap_or(u32::MAX)));
                self.go(from + 1, rest - count * size);
                self.path.pop();
            }
            return;
        }
        if rest <= self.most_rest && self.problem.ends_well(rest) && self.full(rest) {
            self.found.push((rest, Pattern { bar: self.bar, cuts: self.path.clone() }));
        }
        for item in from..self.demand.len() {
            let size = self.problem.items[item].size;
            for count in (1..=i64::from(self.demand[item]).min(rest / size)).rev() {
                self.path.push((item, u32::try_from(count).unwrap_or(u32::MAX)));
                self.go(item + 1, rest - count * size);
                self.path.pop();
            }
        }
    }

    fn full(&self, rest: i64) -> bool {
        for item in (0..self.demand.len()).rev() {
            if self.problem.items[item].size > rest {
                return true;
            }
            let cut = self.path.iter().find(|(known, _)| *known == item).map_or(0, |(_, count)| *count);
            if self.demand[item] > cut && self.problem.ends_well(rest - self.problem.items[item].size) {
                return false;
            }
        }
        true
    }
}
