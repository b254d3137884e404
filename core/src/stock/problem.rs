//! The problem in whole numbers: what is cut, from what, and one way to cut a bar.

/// Parts of one length.
#[derive(Debug, Clone)]
pub struct Item {
    /// Length and one kerf, in ten-thousandths of a millimetre.
    pub size: i64,
    /// How many are wanted.
    pub demand: u32,
}

/// Bars of one kind.
#[derive(Debug, Clone)]
pub struct Bar {
    /// Length without its trim, and one kerf, in ten-thousandths of a millimetre: the last cut may then be counted like all others.
    pub room: i64,
    /// What one costs, in the unit of the objective.
    pub cost: i64,
    /// How many there are; never more than there are parts.
    pub most: u32,
}

/// Parts, bars and the kerf.
#[derive(Debug, Clone)]
pub struct Problem {
    /// Longest first, each length once.
    pub items: Vec<Item>,
    /// As given.
    pub bars: Vec<Bar>,
    /// In ten-thousandths of a millimetre.
    pub kerf: i64,
}

/// One way to cut one bar.
#[derive(Debug, Clone, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Pattern {
    /// Which bar.
    pub bar: usize,
    /// Item and how many of it, each item once, longest first.
    pub cuts: Vec<(usize, u32)>,
}

/// Patterns and how often each is cut.
pub type Cutting = Vec<(Pattern, u32)>;

impl Problem {
    /// Whether a bar with `rest` of its room left ends well: flush, or with the whole width of the last cut on it.
    pub fn ends_well(&self, rest: i64) -> bool {
        ends_well(rest, self.kerf)
    }

    /// How many of each item are wanted.
    pub fn demand(&self) -> Vec<u32> {
        self.items.iter().map(|item| item.demand).collect()
    }

    /// How many of each bar there are.
    pub fn most(&self) -> Vec<u32> {
        self.bars.iter().map(|bar| bar.most).collect()
    }

    /// What a list of cut bars costs.
    pub fn cost(&self, cutting: &[(Pattern, u32)]) -> i64 {
        cutting.iter().map(|(pattern, count)| self.bars[pattern.bar].cost * i64::from(*count)).sum()
    }

    /// What these bars cost.
    pub fn cost_of(&self, counts: &[u32]) -> i64 {
        self.bars.iter().zip(counts).map(|(bar, count)| bar.cost * i64::from(*count)).sum()
    }
}

/// See [`Problem::ends_well`].
pub fn ends_well(rest: i64, kerf: i64) -> bool {
    rest == 0 || rest >= kerf
}

/// Takes `count` cut bars off what is still wanted and what is still there.
pub fn take(pattern: &Pattern, count: u32, demand: &mut [u32], bars: &mut [u32]) {
    for &(item, each) in &pattern.cuts {
        demand[item] = demand[item].saturating_sub(each * count);
    }
    bars[pattern.bar] -= count;
}

/// How often a pattern can be cut without a part too many.
pub fn times(pattern: &Pattern, demand: &[u32], bars: &[u32]) -> u32 {
    pattern.cuts.iter().map(|&(item, each)| demand[item] / each).min().unwrap_or(0).min(bars[pattern.bar])
}

/// Greatest common divisor.
pub fn common(a: i64, b: i64) -> i64 {
    if b == 0 { a } else { common(b, a % b) }
}
