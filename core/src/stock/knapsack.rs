//! The most valuable way to fill one bar.
//!
//! Branch and bound on whole numbers (Martello and Toth, Knapsack Problems, 1990, chapter 3: bounded knapsack). Where that takes too long
//! a table over the room, in units coarse enough to be quick and rounded so that its value is never too small.

use super::problem::{common, ends_well};

/// Parts to choose from, one entry an item.
pub struct Choice<'a> {
    /// In ten-thousandths of a millimetre.
    pub sizes: &'a [i64],
    /// What one is worth.
    pub values: &'a [i64],
    /// How many at most.
    pub most: &'a [u32],
}

/// What was found.
pub struct Filling {
    /// No filling is worth more than this.
    pub at_most: i64,
    /// A filling that ends well and is worth more than was to be beaten.
    pub cuts: Option<Vec<(usize, u32)>>,
}

/// Steps of the search before the table is made.
const STEPS: u32 = 30_000;

/// Steps of a search that is only to find something better.
const FEW_STEPS: u32 = 1_500;

/// Cells of the table's one row.
const CELLS: i64 = 8_192;

struct Entry {
    item: usize,
    size: i64,
    value: i64,
    most: i64,
}

struct Search {
    entries: Vec<Entry>,
    least: Vec<i64>,
    kerf: i64,
    steps: u32,
    most_steps: u32,
    best: i64,
    cuts: Option<Vec<(usize, u32)>>,
    path: Vec<(usize, u32)>,
}

/// The most valuable filling of `room`, if it is worth more than `beat`.
pub fn fill(choice: &Choice, room: i64, kerf: i64, beat: i64) -> Filling {
    let search = Search::over(choice, room, kerf, beat, STEPS);
    if search.steps < STEPS {
        return Filling { at_most: search.best, cuts: search.cuts.map(in_order) };
    }
    let Search { entries, best, cuts, .. } = search;
    let table = table(&entries, room, kerf, best);
    Filling { at_most: table.at_most.max(best), cuts: table.cuts.or(cuts).map(in_order) }
}

/// A filling of `room` that ends well and is worth more than `beat`, if one is soon found.
pub fn better(choice: &Choice, room: i64, kerf: i64, beat: i64) -> Option<Vec<(usize, u32)>> {
    Search::over(choice, room, kerf, beat, FEW_STEPS).cuts.map(in_order)
}

fn in_order(mut cuts: Vec<(usize, u32)>) -> Vec<(usize, u32)> {
    cuts.sort_unstable();
    cuts
}

impl Search {
    /// The search of a room with so many steps at most.
    fn over(choice: &Choice, room: i64, kerf: i64, beat: i64, most_steps: u32) -> Self {
        let mut entries: Vec<Entry> = (0..choice.sizes.len())
            .filter(|&item| choice.values[item] > 0 && choice.most[item] > 0 && choice.sizes[item] <= room)
            .map(|item| {
                let size = choice.sizes[item];
                Entry { item, size, value: choice.values[item], most: i64::from(choice.most[item]).min(room / size) }
            })
            .collect();
        entries.sort_by(|a, b| {
            let (a_worth, b_worth) =
                (i128::from(a.value) * i128::from(b.size), i128::from(b.value) * i128::from(a.size));
            b_worth.cmp(&a_worth).then(a.item.cmp(&b.item))
        });
        let mut least: Vec<i64> = entries.iter().map(|entry| entry.size).collect();
        for index in (1..least.len()).rev() {
            least[index - 1] = least[index - 1].min(least[index]);
        }
        let mut search = Self { entries, least, kerf, steps: 0, most_steps, best: beat, cuts: None, path: Vec::new() };
        search.go(0, room, 0);
        search
    }

    fn go(&mut self, from: usize, rest: i64, value: i64) {
        self.steps += 1;
        if value > self.best && ends_well(rest, self.kerf) {
            self.best = value;
            self.cuts = Some(self.path.clone());
        }
        for index in from..self.entries.len() {
            if self.least[index] > rest || self.steps >= self.most_steps {
                return;
            }
            let entry = &self.entries[index];
            let (item, size, each) = (entry.item, entry.size, entry.value);
            if i128::from(self.best - value) * i128::from(size) >= i128::from(rest) * i128::from(each) {
                return;
            }
            for count in (1..=(rest / size).min(entry.most)).rev() {
                self.path.push((item, u32::try_from(count).unwrap_or(u32::MAX)));
                self.go(index + 1, rest - count * size, value + count * each);
                self.path.pop();
            }
        }
    }
}

/// Fills a table over the room. Sizes and room are rounded down to the table's unit, so that whatever fits still fits.
fn table(entries: &[Entry], room: i64, kerf: i64, beat: i64) -> Filling {
    let exact = entries.iter().fold(common(room, kerf), |unit, entry| common(unit, entry.size));
    let unit = exact.max((room + CELLS - 1) / CELLS);
    let whole = unit == exact;
    let width = usize::try_from(room / unit).unwrap_or(0) + 1;
    let mut worth = vec![0_i64; width];
    let mut layers: Vec<(usize, Vec<bool>)> = Vec::new();
    for entry in entries {
        let size = usize::try_from(entry.size / unit).unwrap_or(0);
        for _ in 0..entry.most {
            let mut taken = vec![false; if whole { width } else { 0 }];
            let mut better = false;
            for place in (size..width).rev() {
                let with = worth[place - size] + entry.value;
                if with > worth[place] {
                    worth[place] = with;
                    better = true;
                    if whole {
                        taken[place] = true;
                    }
                }
            }
            if !better {
                break;
            }
            if whole {
                layers.push((entry.item, taken));
            }
        }
    }
    let at_most = worth.last().copied().unwrap_or(0);
    if !whole {
        return Filling { at_most, cuts: None };
    }
    // The table holds the best for "at most this much room": all of it, if that ends well, or all that leaves a kerf.
    let short = usize::try_from((room - kerf) / unit).unwrap_or(0);
    let cuts = [width - 1, short].into_iter().find_map(|place| {
        let cuts = trace(&layers, entries, place, unit);
        let used: i64 = cuts.iter().map(|&(item, count)| size_of(entries, item) * i64::from(count)).sum();
        (worth[place] > beat && ends_well(room - used, kerf)).then_some(cuts)
    });
    Filling { at_most, cuts }
}

fn size_of(entries: &[Entry], item: usize) -> i64 {
    entries.iter().find(|entry| entry.item == item).map_or(0, |entry| entry.size)
}

fn trace(layers: &[(usize, Vec<bool>)], entries: &[Entry], mut place: usize, unit: i64) -> Vec<(usize, u32)> {
    let mut cuts: Vec<(usize, u32)> = Vec::new();
    for (item, taken) in layers.iter().rev() {
        if !taken[place] {
            continue;
        }
        place -= usize::try_from(size_of(entries, *item) / unit).unwrap_or(0);
        match cuts.last_mut() {
            Some((last, count)) if last == item => *count += 1,
            _ => cuts.push((*item, 1)),
        }
    }
    cuts
}
