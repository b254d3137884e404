//! What is said of facts: a sentence for each, in the language and unit of its reader.

mod changes;
mod checks;
mod hands;
mod json;
mod kits;
mod parts;

use super::Units;
use super::layout::figures::Figures;
use crate::part::compare::Side;
use crate::sheets::{CheckChange, CheckRow, HandTell, PartChange, Place};
use crate::words::EN;

/// As the API answers: in English, with lengths in mm.
fn in_english() -> Figures {
    Figures { units: Units::Mm, words: &EN }
}

/// What to do with a part that changed, or why it is as it is, in English and mm; empty for one that is as before.
#[must_use]
pub fn part_change(part: &PartChange) -> String {
    in_english().part_change(part)
}

/// What a check dimension that changed measures, in English and mm; empty where a version before told nothing.
#[must_use]
pub fn check_change(check: &CheckChange) -> String {
    in_english().check_change(check)
}

/// What a check dimension measures, from where and to where, in English and mm.
#[must_use]
pub fn check(row: &CheckRow) -> String {
    in_english().measured(&row.what, &row.between)
}

/// A place from which something is measured, to follow "from" or "to", in English and mm.
#[must_use]
pub fn place(place: &Place) -> String {
    in_english().place(place)
}

/// How to know the part of a hand from its opposite, in English and mm.
#[must_use]
pub fn hand(tell: &HandTell, hand: Side) -> String {
    in_english().hand(tell, hand)
}
