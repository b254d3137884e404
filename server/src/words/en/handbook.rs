//! What stands round the pages of the handbook.

use crate::words::groups::handbook::Handbook;

pub const WORDS: Handbook = Handbook {
    contents: "Handbook",
    contents_heading: "Pages of the handbook",
    about_problem: "Read about this in the handbook",
}
.checked();
