//! The paper of a pack, in a cell and to choose from.

use crate::words::groups::paper::Papers;

pub const WORDS: Papers = Papers { a4: "a4", a3: "a3", letter: "letter", tabloid: "tabloid", roll: "roll" }.checked();
