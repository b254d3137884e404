//! How things are put on paper, whatever page they are on: running text and tables, frame and title strip, tiles, bars, dimensions,
//! free places for labels, and how figures are written.

pub(super) mod barred;
pub(super) mod check_bar;
pub(super) mod content;
pub(super) mod contents;
pub(super) mod counting;
pub(super) mod dimension;
pub(super) mod figures;
pub(super) mod flow;
pub(super) mod free_place;
pub(super) mod furniture;
pub(super) mod hole_marks;
pub(super) mod lines;
pub(super) mod numbering;
pub(super) mod step_names;
pub(super) mod templates;
pub(super) mod tiles;
pub(super) mod trimmed;
