//! Several things in a row.

use crate::words::groups::lists::Lists;

pub const WORDS: Lists = Lists { next: "{list}, {thing}", last: "{list} and {thing}" }.checked();
