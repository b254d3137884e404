//! The linear relaxation by column generation (Gilmore and Gomory, Operations Research 9, 1961), and what it proves.
//!
//! A proof is a value for each item and the most that one bar of each kind can hold of it. It is computed in whole numbers, so it holds
//! whatever the rounding in the linear program: the bars of any plan must hold at least the value of what is wanted.

use super::budget::Budget;
use super::knapsack::{Choice, better, fill};
use super::problem::{Pattern, Problem};
use super::simplex::Simplex;
use std::collections::HashSet;

/// Values that bound every plan.
#[derive(Debug, Clone)]
pub struct Proof {
    /// Value of one item.
    pub values: Vec<i64>,
    /// Most value in one bar.
    pub holds: Vec<i64>,
}

impl Proof {
    /// What the bars can hold beyond what is wanted; less than nothing when they are too few.
    pub fn slack(&self, demand: &[u32], bars: &[u32]) -> i64 {
        let held: i64 = self.holds.iter().zip(bars).map(|(holds, count)| holds * i64::from(*count)).sum();
        let wanted: i64 = self.values.iter().zip(demand).map(|(value, count)| value * i64::from(*count)).sum();
        held - wanted
    }

    /// What a pattern leaves unused of its bar's value.
    pub fn loss(&self, pattern: &Pattern) -> i64 {
        let value: i64 = pattern.cuts.iter().map(|&(item, count)| self.values[item] * i64::from(count)).sum();
        self.holds[pattern.bar] - value
    }
}

/// What is minimised.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Goal {
    /// What the bars cost.
    Cost,
    /// What these bars leave uncut.
    Shortage,
}

/// The relaxation at its optimum.
pub struct Relaxed {
    /// Columns of the pool and how often each is cut.
    pub taken: Vec<(usize, f64)>,
    /// Parts left uncut.
    pub short: f64,
    /// What it proves.
    pub proof: Proof,
}

/// All patterns that came up.
#[derive(Default)]
pub struct Pool {
    /// The patterns.
    pub patterns: Vec<Pattern>,
    known: HashSet<Pattern>,
}

impl Pool {
    /// Adds a pattern that is new.
    pub fn add(&mut self, pattern: Pattern) {
        if self.known.insert(pattern.clone()) {
            self.patterns.push(pattern);
        }
    }
}

#[derive(Clone, Copy)]
enum Column {
    Short(usize),
    Surplus(usize),
    Spare(usize),
    Cut(usize),
}

/// Largest whole number that a value is scaled to.
const SCALE: f64 = (1_u64 << 30) as f64;

/// Solves the relaxation for what is wanted from the bars there are.
pub fn relax(
    problem: &Problem,
    demand: &[u32],
    bars: &[u32],
    goal: Goal,
    pool: &mut Pool,
    budget: &mut Budget,
) -> Option<Relaxed> {
    let items: Vec<usize> = (0..demand.len()).filter(|&item| demand[item] > 0).collect();
    let kinds: Vec<usize> = (0..bars.len()).filter(|&bar| bars[bar] > 0).collect();
    let mut program = Program::new(problem, demand, bars, goal, items, kinds);
    for index in 0..pool.patterns.len() {
        program.admit(index, &pool.patterns[index], demand, bars);
    }
    let most = 200 * (program.items.len() + program.kinds.len()) + 2_000;
    for _ in 0..most {
        if budget.spent() {
            return None;
        }
        if program.improve() {
            continue;
        }
        let before = pool.patterns.len();
        program.glance(problem, demand).into_iter().for_each(|pattern| pool.add(pattern));
        if pool.patterns.len() == before {
            let (proof, found) = program.price(problem, demand);
            found.into_iter().for_each(|pattern| pool.add(pattern));
            if pool.patterns.len() == before {
                return Some(program.result(proof));
            }
        }
        for index in before..pool.patterns.len() {
            program.admit(index, &pool.patterns[index], demand, bars);
        }
    }
    let (proof, _) = program.price(problem, demand);
    Some(program.result(proof))
}

/// A pattern's place in the pool, its entries in the program and its cost.
type Admitted = (usize, Vec<(usize, f64)>, f64);

struct Program {
    /// Whether all parts are wanted, so that the proof is one for the whole problem.
    whole: bool,
    items: Vec<usize>,
    kinds: Vec<usize>,
    row_of_item: Vec<usize>,
    row_of_bar: Vec<usize>,
    penalties: Vec<f64>,
    costs: Vec<f64>,
    simplex: Simplex<Column>,
    columns: Vec<Admitted>,
}

impl Program {
    fn new(problem: &Problem, demand: &[u32], bars: &[u32], goal: Goal, items: Vec<usize>, kinds: Vec<usize>) -> Self {
        let dearest = problem.bars.iter().map(|bar| bar.cost).max().unwrap_or(0).max(1) as f64;
        let longest = problem.bars.iter().map(|bar| bar.room).max().unwrap_or(1).max(1) as f64;
        let penalties: Vec<f64> = items
            .iter()
            .map(|&item| match goal {
                Goal::Cost => 4.0 * dearest,
                Goal::Shortage => problem.items[item].size as f64 / longest,
            })
            .collect();
        let costs = kinds
            .iter()
            .map(|&bar| match goal {
                Goal::Cost => problem.bars[bar].cost as f64,
                Goal::Shortage => 0.0,
            })
            .collect();
        // A little more on each row, each time another, keeps the simplex from going in circles. The proof does not see it.
        let more = |row: usize| 1e-7 * (1.0 + ((row * 7_919) % 101) as f64 / 101.0);
        let mut first = Vec::new();
        let mut row_of_item = vec![0; demand.len()];
        let mut row_of_bar = vec![0; bars.len()];
        for (row, &item) in items.iter().enumerate() {
            row_of_item[item] = row;
            first.push((Column::Short(row), penalties[row], f64::from(demand[item]) + more(row)));
        }
        for (place, &bar) in kinds.iter().enumerate() {
            let row = items.len() + place;
            row_of_bar[bar] = row;
            first.push((Column::Spare(row), 0.0, f64::from(bars[bar]) + more(row)));
        }
        let simplex = Simplex::new(first);
        let whole = problem.items.iter().zip(demand).all(|(item, count)| item.demand == *count);
        Self { whole, items, kinds, row_of_item, row_of_bar, penalties, costs, simplex, columns: Vec::new() }
    }

    /// Admits a pattern of the pool if it can be cut once.
    fn admit(&mut self, index: usize, pattern: &Pattern, demand: &[u32], bars: &[u32]) {
        if bars[pattern.bar] == 0 || pattern.cuts.iter().any(|&(item, count)| count > demand[item]) {
            return;
        }
        let row = self.row_of_bar[pattern.bar];
        let mut entries: Vec<(usize, f64)> =
            pattern.cuts.iter().map(|&(item, count)| (self.row_of_item[item], f64::from(count))).collect();
        entries.push((row, 1.0));
        self.columns.push((index, entries, self.costs[row - self.items.len()]));
    }

    /// One step with the columns known so far.
    fn improve(&mut self) -> bool {
        let scale = self.penalties.iter().copied().fold(0.0, f64::max);
        let mut best = -1e-9 * scale;
        let mut which = None;
        for row in 0..self.items.len() {
            let price = self.simplex.prices[row];
            for (column, reduced) in [(Column::Surplus(row), price), (Column::Short(row), self.penalties[row] - price)]
            {
                if reduced < best {
                    best = reduced;
                    which = Some((column, row));
                }
            }
        }
        for row in self.items.len()..self.items.len() + self.kinds.len() {
            let reduced = -self.simplex.prices[row];
            if reduced < best {
                best = reduced;
                which = Some((Column::Spare(row), row));
            }
        }
        for (place, (_, entries, cost)) in self.columns.iter().enumerate() {
            let reduced = self.simplex.reduced(entries, *cost);
            if reduced < best {
                best = reduced;
                which = Some((Column::Cut(place), 0));
            }
        }
        match which {
            None => false,
            Some((Column::Cut(place), _)) => {
                let (_, entries, cost) = &self.columns[place];
                self.simplex.enter(Column::Cut(place), entries, *cost)
            }
            Some((Column::Surplus(row), _)) => self.simplex.enter(Column::Surplus(row), &[(row, -1.0)], 0.0),
            Some((Column::Short(row), _)) => self.simplex.enter(Column::Short(row), &[(row, 1.0)], self.penalties[row]),
            Some((Column::Spare(row), _)) => self.simplex.enter(Column::Spare(row), &[(row, 1.0)], 0.0),
        }
    }

    /// What each item is worth by the prices, and what a price is multiplied by for that.
    fn values(&self, demand: &[u32]) -> (Vec<i64>, f64) {
        let dearest = self.simplex.prices[..self.items.len()].iter().copied().fold(0.0, f64::max);
        let scale = if dearest > 0.0 { SCALE / dearest } else { 0.0 };
        let mut values = vec![0_i64; demand.len()];
        for (row, &item) in self.items.iter().enumerate() {
            values[item] = (self.simplex.prices[row].max(0.0) * scale).floor() as i64;
        }
        (values, scale)
    }

    /// What a pattern of a kind of bar, given by its place among the kinds, must be worth more than to lower the objective.
    fn to_beat(&self, place: usize, scale: f64) -> i64 {
        let price = (self.costs[place] - self.simplex.prices[self.items.len() + place]).max(0.0) * scale;
        (price + SCALE * 1e-9).ceil() as i64
    }

    /// Patterns that would lower the objective, where some are soon found.
    fn glance(&self, problem: &Problem, demand: &[u32]) -> Vec<Pattern> {
        let (values, scale) = self.values(demand);
        let sizes = sizes(problem);
        let choice = Choice { sizes: &sizes, values: &values, most: demand };
        let found = self.kinds.iter().enumerate().filter_map(|(place, &bar)| {
            let cuts = better(&choice, problem.bars[bar].room, problem.kerf, self.to_beat(place, scale))?;
            Some(Pattern { bar, cuts })
        });
        found.collect()
    }

    /// The proof that the prices give, and patterns that would lower the objective.
    fn price(&self, problem: &Problem, demand: &[u32]) -> (Proof, Vec<Pattern>) {
        let (values, scale) = self.values(demand);
        let sizes = sizes(problem);
        let all: i64 = values.iter().zip(demand).map(|(value, count)| value * i64::from(*count)).sum();
        let choice = Choice { sizes: &sizes, values: &values, most: demand };
        let mut holds = Vec::with_capacity(problem.bars.len());
        let mut found = Vec::new();
        for (bar, kind) in problem.bars.iter().enumerate() {
            let place = self.kinds.iter().position(|&known| known == bar);
            let Some(place) = place else {
                holds.push(if self.whole { fill(&choice, kind.room, problem.kerf, 0).at_most } else { 0 });
                continue;
            };
            let filling = fill(&choice, kind.room, problem.kerf, self.to_beat(place, scale).min(all));
            holds.push(filling.at_most);
            found.extend(filling.cuts.map(|cuts| Pattern { bar, cuts }));
        }
        (Proof { values, holds }, found)
    }

    fn result(self, proof: Proof) -> Relaxed {
        let mut taken = Vec::new();
        let mut short = 0.0;
        for (column, level) in &self.simplex.basis {
            match column {
                Column::Cut(place) if *level > 1e-6 => taken.push((self.columns[*place].0, *level)),
                Column::Short(_) => short += level.max(0.0),
                _ => {}
            }
        }
        taken.sort_by(|a, b| b.1.total_cmp(&a.1).then(a.0.cmp(&b.0)));
        Relaxed { taken, short, proof }
    }
}

fn sizes(problem: &Problem) -> Vec<i64> {
    problem.items.iter().map(|item| item.size).collect()
}
