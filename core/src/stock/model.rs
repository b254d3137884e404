//! A request in whole numbers.
//!
//! Lengths and prices are counted in ten-thousandths, of a millimetre and of a unit of money: a sixteenth of an inch is a whole number
//! of them. Lengths that are none are rounded to the safe side, parts, kerf and trim up, bars down, so that a plan that holds in whole
//! numbers holds for the lengths as given.

use super::ends::{End, Ends, Slope, turning_step};
use super::problem::{Bar, Item, Problem};
use super::request::{
    MOST_BUNDLE, MOST_LENGTH, MOST_PART_ENTRIES, MOST_PARTS, MOST_PRICE, MOST_STOCK_ENTRIES, Request, StockError,
};
use crate::words::findings::stock::{Entries, Measure, StockFault};
use std::collections::{BTreeMap, HashSet};

/// Ten-thousandths in a millimetre, and in a unit of money.
pub const UNITS: f64 = 10_000.0;

/// Shortest part or bar, mm.
const LEAST_LENGTH: f64 = 0.001;

/// A problem and what its numbers stand for.
#[derive(Debug, Clone)]
pub struct Model {
    /// What is solved. With mitres each part counts as if it shared a cut at every sloped end, so that no plan costs less than its.
    pub problem: Problem,
    /// For each item what the saw makes of it.
    pub kinds: Vec<Kind>,
    /// For each item the request's parts of that kind.
    pub parts: Vec<Vec<usize>>,
    /// For each bar its entry in the request's stock.
    pub stock: Vec<usize>,
    /// The saw.
    pub saw: Saw,
    /// The slopes that parts can share.
    pub slopes: Vec<Slope>,
}

/// What all cuts have in common, in ten-thousandths of a millimetre.
#[derive(Debug, Clone, Copy)]
pub struct Saw {
    /// Width of a square cut.
    pub kerf: i64,
    /// Cut off the first end of each bar.
    pub trim: i64,
    /// What a bar's room in the problem is beyond what is there after its trim.
    pub beyond: i64,
    /// By which steps a part may be turned in the bar, degrees; 0 when at will.
    pub turning_step: f64,
}

/// Parts that are cut alike.
#[derive(Debug, Clone, PartialEq)]
pub struct Kind {
    /// From long point to long point, in ten-thousandths of a millimetre.
    pub length: i64,
    /// Its first and its other end.
    pub ends: [End; 2],
}

impl Model {
    /// From the trim of a bar to its end, in ten-thousandths of a millimetre.
    pub fn room(&self, bar: usize) -> i64 {
        self.problem.bars[bar].room - self.saw.beyond
    }
}

impl Kind {
    /// Whether an end is sloped.
    pub fn is_sloped(&self) -> bool {
        self.ends.iter().any(End::is_sloped)
    }

    /// Twice what this end takes of the bar beside the part, at least.
    fn twice_least(&self, end: usize, slopes: &[Slope], kerf: i64) -> i64 {
        self.ends[end].slope.map_or(kerf, |slope| kerf.min(-slopes[slope].saving))
    }

    /// What the part takes of the bar, at least.
    fn least_size(&self, slopes: &[Slope], kerf: i64) -> i64 {
        self.length + (self.twice_least(0, slopes, kerf) + self.twice_least(1, slopes, kerf)).div_euclid(2)
    }
}

/// Orders parts of one size.
type Key = (i64, i64, [(i64, i64); 2]);

/// Checks a request and counts it in whole numbers.
pub fn model(request: &Request) -> Result<Model, StockError> {
    request.seconds()?;
    let kerf = up(length(request.kerf, "/kerf", Measure::Kerf, true)?);
    let trim = up(length(request.trim, "/trim", Measure::Trim, true)?);
    check_rest(request)?;
    let total = check_parts(request)?;
    let (mut bars, stock) = bars(request, kerf, trim, total)?;
    let longest = bars.iter().map(|bar| bar.room).max().unwrap_or(0);
    let mut ends = Ends::of(request)?;
    let mut kinds = Vec::with_capacity(request.parts.len());
    for (index, part) in request.parts.iter().enumerate() {
        let kind = Kind { length: up(part.length), ends: ends.read(index, part)? };
        if kind.length + kerf > longest {
            let fact = StockFault::PartTooLong {
                id: &part.id,
                length: part.length,
                longest: ((longest - kerf) as f64 / UNITS).max(0.0),
            };
            return Err(StockError::new("stock-part-too-long", format!("/parts/{index}/length"), fact));
        }
        kinds.push(kind);
    }
    let slopes = ends.slopes;
    let mut groups: BTreeMap<Key, Vec<usize>> = BTreeMap::new();
    for (index, kind) in kinds.iter().enumerate() {
        let key = (kind.least_size(&slopes, kerf), kind.length, [kind.ends[0].key(), kind.ends[1].key()]);
        groups.entry(key).or_default().push(index);
    }
    let mut items = Vec::new();
    let mut parts = Vec::new();
    for ((size, ..), indices) in groups.into_iter().rev() {
        items.push(Item { size, demand: indices.iter().map(|&index| request.parts[index].count).sum() });
        parts.push(indices);
    }
    let kinds: Vec<Kind> = parts.iter().map(|indices| kinds[indices[0]].clone()).collect();
    let mitred = kinds.iter().any(Kind::is_sloped);
    // At both ends of a bar something is counted that is not lost there: twice the half of it at most.
    let beside = kinds.iter().flat_map(|kind| [0, 1].map(|end| kind.twice_least(end, &slopes, kerf)));
    let beyond = beside.max().unwrap_or(kerf);
    for bar in &mut bars {
        bar.room += beyond - kerf;
    }
    let problem = Problem { items, bars, kerf: if mitred { 0 } else { kerf } };
    let saw = Saw { kerf, trim, beyond, turning_step: turning_step(request.section) };
    Ok(Model { problem, kinds, parts, stock, saw, slopes })
}

fn check_rest(request: &Request) -> Result<(), StockError> {
    if let Some(least) = request.min_remnant {
        length(least, "/min_remnant", Measure::Remnant, true)?;
    }
    if request.bundle.is_some_and(|bundle| !(1..=MOST_BUNDLE).contains(&bundle)) {
        let fact = StockFault::Bundle { most_bundle: MOST_BUNDLE };
        return Err(StockError::new("stock-bundle", "/bundle", fact));
    }
    Ok(())
}

fn check_parts(request: &Request) -> Result<u32, StockError> {
    entries(request.parts.len(), MOST_PART_ENTRIES, "/parts", Entries::Parts)?;
    let mut ids = HashSet::new();
    let mut total = 0_u64;
    for (index, part) in request.parts.iter().enumerate() {
        length(part.length, &format!("/parts/{index}/length"), Measure::Part, false)?;
        if part.count == 0 {
            let fact = StockFault::Count;
            return Err(StockError::new("stock-count", format!("/parts/{index}/count"), fact));
        }
        if !ids.insert(part.id.as_str()) {
            let fact = StockFault::PartTwice { id: &part.id };
            return Err(StockError::new("stock-part-twice", format!("/parts/{index}/id"), fact));
        }
        total += u64::from(part.count);
    }
    u32::try_from(total).ok().filter(|_| total <= MOST_PARTS).ok_or_else(|| {
        let fact = StockFault::TooManyParts { most_parts: MOST_PARTS, total };
        StockError::new("stock-many", "/parts", fact)
    })
}

fn bars(request: &Request, kerf: i64, trim: i64, total: u32) -> Result<(Vec<Bar>, Vec<usize>), StockError> {
    entries(request.stock.len(), MOST_STOCK_ENTRIES, "/stock", Entries::Stock)?;
    let priced = request.stock.first().is_some_and(|entry| entry.price.is_some());
    let (mut bars, mut stock) = (Vec::new(), Vec::new());
    for (index, entry) in request.stock.iter().enumerate() {
        length(entry.length, &format!("/stock/{index}/length"), Measure::Bar, false)?;
        if entry.price.is_some() != priced {
            return Err(StockError::new("stock-price", format!("/stock/{index}/price"), StockFault::SomePriced));
        }
        let whole = down(entry.length);
        let cost = match entry.price {
            None => (entry.length * UNITS).round() as i64,
            Some(price) if (0.0..=MOST_PRICE).contains(&price) => (price * UNITS).round() as i64,
            Some(price) => {
                let fact = StockFault::Price { most_price: MOST_PRICE, price };
                return Err(StockError::new("stock-price", format!("/stock/{index}/price"), fact));
            }
        };
        let most = entry.count.unwrap_or(total).min(total);
        if most > 0 && whole > trim {
            bars.push(Bar { room: whole - trim + kerf, cost, most });
            stock.push(index);
        }
    }
    Ok((bars, stock))
}

fn entries(count: usize, most: usize, pointer: &str, what: Entries) -> Result<(), StockError> {
    if (1..=most).contains(&count) {
        return Ok(());
    }
    let fact = StockFault::Entries { most, what, count };
    Err(StockError::new("stock-many", pointer, fact))
}

fn length(value: f64, pointer: &str, what: Measure, or_none: bool) -> Result<f64, StockError> {
    let least = if or_none { 0.0 } else { LEAST_LENGTH };
    if (least..=MOST_LENGTH).contains(&value) {
        return Ok(value);
    }
    let fact = StockFault::Length { what, least, most_length: MOST_LENGTH, value };
    Err(StockError::new("stock-length", pointer, fact))
}

/// Ten-thousandths, up. A ten-thousandth of one is the noise of decimal fractions, not a length.
pub fn up(value: f64) -> i64 {
    (value * UNITS - 1e-4).ceil() as i64
}

/// Ten-thousandths, down.
pub fn down(value: f64) -> i64 {
    (value * UNITS + 1e-4).floor() as i64
}
