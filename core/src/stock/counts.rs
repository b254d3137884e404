//! How many bars of each kind: the cheapest choice that nothing forbids.

use super::problem::{Problem, common};
use super::relax::Proof;

/// What is known of numbers of bars.
#[derive(Default)]
pub struct Knowledge {
    /// Any plan's bars hold what is wanted.
    pub proofs: Vec<Proof>,
    /// Bars from which the parts cannot be cut, however it is done.
    pub refuted: Vec<Vec<u32>>,
}

/// Cost of what cannot be had.
const NEVER: i64 = i64::MAX / 4;

/// Work of one search: proofs looked at times kinds of bars.
const WORK: usize = 2_000_000;

/// Windows of cost that are looked through one after the other, each this much wider than the one before.
const WIDER: i64 = 8;

/// What a search came to.
pub enum Cheapest {
    /// These bars; none that are allowed cost less.
    Found(Vec<u32>),
    /// These bars; others may cost less.
    Guessed(Vec<u32>),
    /// Nothing is left at less than the cost given.
    None,
    /// The search was too long; nothing is known.
    Unknown,
}

struct Search<'a> {
    problem: &'a Problem,
    knowledge: &'a Knowledge,
    skipped: &'a [Vec<u32>],
    /// Bars in the order of choice.
    order: Vec<usize>,
    /// For each proof the places in that order, what holds most for its cost first.
    worth: Vec<Vec<usize>>,
    work: usize,
    least: i64,
    below: i64,
    found: Option<Vec<u32>>,
    counts: Vec<u32>,
}

/// The cheapest numbers of bars that cost at least `least` and less than `below`, hold all by every proof, and are neither refuted nor
/// among those to be skipped.
pub fn cheapest(problem: &Problem, knowledge: &Knowledge, skipped: &[Vec<u32>], least: i64, below: i64) -> Cheapest {
    let (mut search, wanted) = Search::new(problem, knowledge, skipped, least);
    let floor = least.max(search.still(0, &wanted));
    let mut complete = true;
    let mut width = ((below - floor) >> 18).max(1);
    if floor >= below {
        return Cheapest::None;
    }
    loop {
        let end = if width < below - floor { floor + width } else { below };
        search.work = 0;
        search.below = end;
        search.go(0, 0, &wanted);
        complete &= search.work < WORK;
        match search.found.take() {
            Some(counts) if complete => return Cheapest::Found(counts),
            Some(counts) => return Cheapest::Guessed(counts),
            None if end == below => break,
            None => width *= WIDER,
        }
    }
    if complete { Cheapest::None } else { Cheapest::Unknown }
}

/// What any plan costs at least by the proofs alone, as if bars could be had in parts. A cost is a multiple of what all bars' costs are.
pub fn at_least(problem: &Problem, knowledge: &Knowledge) -> i64 {
    let (search, wanted) = Search::new(problem, knowledge, &[], 0);
    let least = search.still(0, &wanted);
    let step = problem.bars.iter().fold(0, |step, bar| common(step, bar.cost)).max(1);
    (least + step - 1) / step * step
}

/// Places of bars that hold something, least cost for what they hold first.
fn by_worth(problem: &Problem, proof: &Proof, order: &[usize]) -> Vec<usize> {
    let mut places: Vec<usize> = (0..order.len()).filter(|&place| proof.holds[order[place]] > 0).collect();
    places.sort_by(|&a, &b| {
        let (a, b) = (order[a], order[b]);
        let cost = |bar: usize, other: usize| i128::from(problem.bars[bar].cost) * i128::from(proof.holds[other]);
        cost(a, b).cmp(&cost(b, a))
    });
    places
}

impl<'a> Search<'a> {
    /// The search at its start, and what is wanted by each proof.
    fn new(problem: &'a Problem, knowledge: &'a Knowledge, skipped: &'a [Vec<u32>], least: i64) -> (Self, Vec<i64>) {
        let mut order: Vec<usize> = (0..problem.bars.len()).collect();
        order.sort_by_key(|&bar| (problem.bars[bar].most, bar));
        let counts = vec![0; problem.bars.len()];
        let demand = problem.demand();
        let wanted = knowledge.proofs.iter().map(|proof| -proof.slack(&demand, &counts)).collect();
        let worth = knowledge.proofs.iter().map(|proof| by_worth(problem, proof, &order)).collect();
        (Self { problem, knowledge, skipped, order, worth, work: 0, least, below: 0, found: None, counts }, wanted)
    }

    fn go(&mut self, depth: usize, cost: i64, wanted: &[i64]) {
        self.work += 1 + self.knowledge.proofs.len() * self.order.len();
        if self.work >= WORK || cost + self.still(depth, wanted) >= self.below {
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
        // Bars that cost nothing are all taken; those with no cut on them stay where they are.
        let fewest = if kind.cost == 0 { kind.most } else { 0 };
        for (rest, proof) in rest.iter_mut().zip(&self.knowledge.proofs) {
            *rest -= proof.holds[bar] * i64::from(fewest);
        }
        for count in fewest..=kind.most {
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
        for ((proof, worth), &wanted) in self.knowledge.proofs.iter().zip(&self.worth).zip(wanted) {
            if wanted <= 0 {
                continue;
            }
            let (mut rest, mut cost) = (i128::from(wanted), 0_i128);
            for &place in worth.iter().filter(|&&place| place >= depth) {
                let bar = self.order[place];
                let (each, holds) = (i128::from(self.problem.bars[bar].cost), i128::from(proof.holds[bar]));
                let all = holds * i128::from(self.problem.bars[bar].most);
                if all >= rest {
                    cost += (rest * each + holds - 1) / holds;
                    rest = 0;
                    break;
                }
                rest -= all;
                cost += each * i128::from(self.problem.bars[bar].most);
            }
            if rest > 0 {
                return NEVER;
            }
            most = most.max(cost);
        }
        i64::try_from(most).unwrap_or(NEVER)
    }

    fn forbidden(&self) -> bool {
        self.skipped.contains(&self.counts)
            || self.knowledge.refuted.iter().any(|refuted| within(self.problem, &self.counts, refuted))
    }
}

/// Whether whatever is cut from `fewer` could be cut from `more`.
///
/// Each bar of `fewer` is given one of `more` that is as long, or longer by a kerf or more: what ended flush then still ends well.
fn within(problem: &Problem, fewer: &[u32], more: &[u32]) -> bool {
    if fewer.iter().zip(more).all(|(fewer, more)| fewer <= more) {
        return true;
    }
    let bars = &problem.bars;
    let apart = bars.iter().all(|a| bars.iter().all(|b| problem.ends_well((a.room - b.room).abs())));
    let longer = |counts: &[u32], room: i64| -> u32 {
        bars.iter().zip(counts).filter(|(bar, _)| bar.room >= room).map(|(_, count)| count).sum()
    };
    apart && bars.iter().all(|bar| longer(fewer, bar.room) <= longer(more, bar.room))
}
