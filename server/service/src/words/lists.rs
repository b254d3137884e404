//! Several things in a row.

use super::groups::lists::Lists;
use matchmark_core::words::Slot;

/// Such as `4`, or `4, 5 and 7`.
pub fn joined<T: Slot>(says: &Lists, things: &[T]) -> String {
    let Some((last, before)) = things.split_last() else { return String::new() };
    let last = written(last);
    let before = before.iter().map(written).reduce(|list, thing| says.next(list, thing));
    before.map(|list| says.last(list, &last)).unwrap_or(last)
}

fn written(thing: &impl Slot) -> String {
    let mut text = String::new();
    thing.add_to(&mut text);
    text
}

/// Whole sentences, one after the other.
pub fn sentences(said: &[String]) -> String {
    said.join(" ")
}
