//! Which measured values a kit has, as a number that pages can bear.

use crate::rules::drawn_with::is_same;
use matchmark_store::measurements::{MeasuredRow, values};
use std::collections::BTreeMap;

/// How many of the rows, oldest first, had been told when the kit first had the measured values that it has after all of them.
pub(crate) fn measured_set(rows: &[MeasuredRow]) -> usize {
    let after = |count: usize| values(rows.iter().take(count).cloned());
    let now = after(rows.len());
    (0..rows.len()).find(|count| are_same(&after(*count), &now)).unwrap_or(rows.len())
}

/// The measured values that a kit had at a time, of all rows.
pub(crate) fn known_by(rows: &[MeasuredRow], at: &str) -> BTreeMap<String, f64> {
    values(rows.iter().filter(|row| row.at.as_str() <= at).cloned())
}

/// Whether two sets of measured values are one.
pub(crate) fn are_same(some: &BTreeMap<String, f64>, others: &BTreeMap<String, f64>) -> bool {
    some.len() == others.len() && some.iter().zip(others).all(|((a, x), (b, y))| a == b && is_same(*x, *y))
}
