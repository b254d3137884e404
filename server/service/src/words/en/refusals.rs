//! What is said of refusals stands in their list.

use crate::words::groups::refusals::Refusals;

pub const WORDS: Refusals = Refusals::ENGLISH.checked();
