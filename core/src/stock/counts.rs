//! How many bars of each kind: the cheapest choice that nothing forbids.

use super::problem::Problem;
use super::relax::Proof;

/// What is known of numbers of bars.
#[derive(Default)]
pub struct Knowledge {
    /// Any plan's bars hold what is wanted.
    pub proofs: Vec<Proof>,
    /// Bars from which the parts cannot be cut, however it is done.
    pub refuted: Vec<Vec<u32>>,
}

/// Steps of one search.
const STEPS: u32 = 400_000;

/// What a search came to.
pub enum Cheapest {
    /// These bars.
    Found(Vec<u32>),
    /// Nothing is left at less than the cost given.
    None,
    /// The search was too long; nothing is known.
    Unknown,
}

struct Search<'a> {
    problem: &'a Problem,
    knowledge: &'a Knowledge,
    skipped: &'a [Vec<u32>],
    order: Vec<usize>,
    steps: u32,
    least: i64,
    below: i64,
    found: Option<Vec<u32>>,
    counts: Vec<u32>,
}

/// The cheapest numbers of bars that cost at least `least` and less than `below`, hold all by every proof, and are neither refuted nor
/// among those to be skipped.
pub fn cheapest(problem: &Problem, knowledge: &Knowledge, skipped: &[Vec<u32>], least: i64, below: i64) -> Cheapest {
    let mut order: Vec<usize> = (0..problem.bars.len()).collect();
    order.sort_by_key(|&bar| (problem.bars[bar].most, bar));
    let counts = vec![0; problem.bars.len()];
    let demand = problem.demand();
    let wanted: Vec<i64> = knowledge.proofs.iter().map(|proof| -proof.slack(&demand, &counts)).collect();
    let mut search = Search { problem, knowledge, skipped, order, steps: 0, least, below, found: None, counts };
    search.go(0, 0, &wanted);
    match search.found {
        _ if search.steps >= STEPS => Cheapest::Unknown,
        Some(counts) => Cheapest::Found(counts),
        None => Cheapest::None,
    }
}

impl Search<'_> {
    fn go(&mut self, depth: usize, cost: i64, wanted: &[i64]) {
        self.steps += 1;
        if self.steps >= STEPS || cost + self.still(depth, wanted) >= self.below {
            return;
        }
        if depth == self.order.len() {
            if cost >= self.least && wanted.iter().all(|&wanted| wanted <= 0) && !self.forbidden() {
                self.below = cost;
                self.found = Some(self.counts.clone());
            }
            return;
        }
        let bar = self.order[depth];
        let kind = &self.problem.bars[bar];
        let last = depth + 1 == self.order.len();
        let enough = |wanted: &[i64]| wanted.iter().all(|&wanted| wanted <= 0);
        let mut rest = wanted.to_vec();
        for count in 0..=kind.most {
            self.counts[bar] = count;
            let cost = cost + kind.cost * i64::from(count);
            if cost >= self.below {
                break;
            }
            if !last || enough(&rest) {
                self.go(depth + 1, cost, &rest);
            }
            // More bars than enough are wanted only where enough of them are forbidden or cost too little.
            for (rest, proof) in rest.iter_mut().zip(&self.knowledge.proofs) {
                *rest -= proof.holds[bar];
            }
        }
        self.counts[bar] = 0;
    }

    /// Least cost of what is still wanted, from the bars not chosen yet.
    fn still(&self, depth: usize, wanted: &[i64]) -> i64 {
        let mut most = 0_i128;
        for (proof, &wanted) in self.knowledge.proofs.iter().zip(wanted) {
            if wanted <= 0 {
                continue;
            }
            let mut kinds: Vec<(i64, i64, u32)> = self.order[depth..]
                .iter()
                .map(|&bar| (self.problem.bars[bar].cost, proof.holds[bar], self.problem.bars[bar].most))
                .filter(|kind| kind.1 > 0)
                .collect();
            kinds.sort_by(|a, b| (i128::from(a.0) * i128::from(b.1)).cmp(&(i128::from(b.0) * i128::from(a.1))));
            let (mut rest, mut cost) = (i128::from(wanted), 0_i128);
            for (each, holds, count) in kinds {
                let (each, holds) = (i128::from(each), i128::from(holds));
                let all = holds * i128::from(count);
                if all >= rest {
                    cost += (rest * each + holds - 1) / holds;
                    rest = 0;
                    break;
                }
                rest -= all;
                cost += each * i128::from(count);
            }
            if rest > 0 {
                return i64::MAX / 4;
            }
            most = most.max(cost);
        }
        i64::try_from(most).unwrap_or(i64::MAX / 4)
    }

    fn forbidden(&self) -> bool {
        self.skipped.contains(&self.counts)
            || self.knowledge.refuted.iter().any(|refuted| within(self.problem, &self.counts, refuted))
    }
}

/// Whether each bar of `fewer` can be given a bar of `more` that is at least as long.
fn within(problem: &Problem, fewer: &[u32], more: &[u32]) -> bool {
    let longer = |counts: &[u32], room: i64| -> u32 {
        problem.bars.iter().zip(counts).filter(|(bar, _)| bar.room >= room).map(|(_, count)| count).sum()
    };
    problem.bars.iter().all(|bar| longer(fewer, bar.room) <= longer(more, bar.room))
}
