//! English, one file a group.

pub(super) mod as_measured;
pub(super) mod barred;
pub(super) mod bend_sheet;
pub(super) mod check_bar;
pub(super) mod cut_sheet;
pub(super) mod document;
pub(super) mod drawings;
pub(super) mod figures;
pub(super) mod hands;
pub(super) mod hole_strips;
pub(super) mod jig_sheets;
pub(super) mod kinds;
pub(super) mod left_long;
pub(super) mod page;
pub(super) mod plates;
pub(super) mod set_out;
pub(super) mod step_names;
pub(super) mod stock_plan;
pub(super) mod strips;
pub(super) mod tiles;
pub(super) mod views;
pub(super) mod wrap;
pub(super) mod wrap_diagram;
pub(super) mod wrap_legend;
pub(super) mod wrap_strip;
