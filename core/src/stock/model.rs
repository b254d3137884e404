//! A request in whole numbers.
//!
//! Lengths and prices are counted in ten-thousandths, of a millimetre and of a unit of money: a sixteenth of an inch is a whole number
//! of them. Lengths that are none are rounded to the safe side, parts, kerf and trim up, bars down, so that a plan that holds in whole
//! numbers holds for the lengths as given.

use super::problem::{Bar, Item, Problem};
use super::request::{MOST_LENGTH, MOST_PART_ENTRIES, MOST_PARTS, MOST_PRICE, MOST_STOCK_ENTRIES, Request, StockError};
use std::collections::{BTreeMap, HashSet};

/// Ten-thousandths in a millimetre, and in a unit of money.
pub const UNITS: f64 = 10_000.0;

/// Shortest part or bar, mm.
const LEAST_LENGTH: f64 = 0.001;

/// A problem and what its numbers stand for.
#[derive(Debug)]
pub struct Model {
    /// What is solved.
    pub problem: Problem,
    /// For each item the request's parts of that length.
    pub parts: Vec<Vec<usize>>,
    /// For each bar its entry in the request's stock.
    pub stock: Vec<usize>,
}

/// Checks a request and counts it in whole numbers.
pub fn model(request: &Request) -> Result<Model, StockError> {
    request.seconds()?;
    let kerf = up(length(request.kerf, "/kerf", "The kerf", true)?);
    let trim = up(length(request.trim, "/trim", "The trim", true)?);
    let total = check_parts(request)?;
    let (bars, stock) = bars(request, kerf, trim, total)?;
    let longest = bars.iter().map(|bar| bar.room).max().unwrap_or(0);
    let mut lengths: BTreeMap<i64, Vec<usize>> = BTreeMap::new();
    for (index, part) in request.parts.iter().enumerate() {
        let size = up(part.length) + kerf;
        if size > longest {
            let message = format!(
                "Part {} is {} mm long; the longest bar gives {} mm after its trim. Add a longer bar or splice the part.",
                part.id,
                part.length,
                ((longest - kerf) as f64 / UNITS).max(0.0)
            );
            return Err(StockError::new("stock-part-too-long", format!("/parts/{index}/length"), message));
        }
        lengths.entry(size).or_default().push(index);
    }
    let mut items = Vec::new();
    let mut parts = Vec::new();
    for (size, indices) in lengths.into_iter().rev() {
        items.push(Item { size, demand: indices.iter().map(|&index| request.parts[index].count).sum() });
        parts.push(indices);
    }
    Ok(Model { problem: Problem { items, bars, kerf }, parts, stock })
}

fn check_parts(request: &Request) -> Result<u32, StockError> {
    entries(request.parts.len(), MOST_PART_ENTRIES, "/parts", "parts")?;
    let mut ids = HashSet::new();
    let mut total = 0_u64;
    for (index, part) in request.parts.iter().enumerate() {
        length(part.length, &format!("/parts/{index}/length"), "The length of a part", false)?;
        if part.count == 0 {
            let message = "A part is wanted once or more. Give its count, or leave the part out.";
            return Err(StockError::new("stock-count", format!("/parts/{index}/count"), message));
        }
        if !ids.insert(part.id.as_str()) {
            let message = format!("There are two parts {}. Give each an id of its own.", part.id);
            return Err(StockError::new("stock-part-twice", format!("/parts/{index}/id"), message));
        }
        total += u64::from(part.count);
    }
    u32::try_from(total).ok().filter(|_| total <= MOST_PARTS).ok_or_else(|| {
        let message = format!("One plan takes {MOST_PARTS} parts at most, not {total}. Plan in batches.");
        StockError::new("stock-many", "/parts", message)
    })
}

fn bars(request: &Request, kerf: i64, trim: i64, total: u32) -> Result<(Vec<Bar>, Vec<usize>), StockError> {
    entries(request.stock.len(), MOST_STOCK_ENTRIES, "/stock", "stock")?;
    let priced = request.stock.first().is_some_and(|entry| entry.price.is_some());
    let (mut bars, mut stock) = (Vec::new(), Vec::new());
    for (index, entry) in request.stock.iter().enumerate() {
        length(entry.length, &format!("/stock/{index}/length"), "The length of a bar", false)?;
        if entry.price.is_some() != priced {
            let message = "Some bars have a price and some have none, so they cannot be compared. Give all a price, \
                           0 where nothing is paid, or none.";
            return Err(StockError::new("stock-price", format!("/stock/{index}/price"), message));
        }
        let whole = down(entry.length);
        let cost = match entry.price {
            None => (entry.length * UNITS).round() as i64,
            Some(price) if (0.0..=MOST_PRICE).contains(&price) => (price * UNITS).round() as i64,
            Some(price) => {
                let message = format!("A price is 0 to {MOST_PRICE}, not {price}.");
                return Err(StockError::new("stock-price", format!("/stock/{index}/price"), message));
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

fn entries(count: usize, most: usize, pointer: &str, what: &str) -> Result<(), StockError> {
    if (1..=most).contains(&count) {
        return Ok(());
    }
    let message = format!("A plan takes 1 to {most} entries of {what}, not {count}.");
    Err(StockError::new("stock-many", pointer, message))
}

fn length(value: f64, pointer: &str, what: &str, or_none: bool) -> Result<f64, StockError> {
    let least = if or_none { 0.0 } else { LEAST_LENGTH };
    if (least..=MOST_LENGTH).contains(&value) {
        return Ok(value);
    }
    let message = format!("{what} is {least} to {MOST_LENGTH} mm, not {value}.");
    Err(StockError::new("stock-length", pointer, message))
}

/// Ten-thousandths, up. A ten-thousandth of one is the noise of decimal fractions, not a length.
fn up(value: f64) -> i64 {
    (value * UNITS - 1e-4).ceil() as i64
}

/// Ten-thousandths, down.
fn down(value: f64) -> i64 {
    (value * UNITS + 1e-4).floor() as i64
}
