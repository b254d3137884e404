//! Names and slots of phrases, one file a group.

pub(crate) mod as_measured;
pub(crate) mod barred;
pub(crate) mod bend_sheet;
pub(crate) mod check_bar;
pub(crate) mod cut_sheet;
pub(crate) mod document;
pub(crate) mod drawings;
pub(crate) mod figures;
pub(crate) mod hands;
pub(crate) mod hole_strips;
pub(crate) mod jig_sheets;
pub(crate) mod kinds;
pub(crate) mod left_long;
pub(crate) mod page;
pub(crate) mod plates;
pub(crate) mod set_out;
pub(crate) mod step_names;
pub(crate) mod stock_plan;
pub(crate) mod strips;
pub(crate) mod tiles;
pub(crate) mod views;
pub(crate) mod wrap;
pub(crate) mod wrap_diagram;
pub(crate) mod wrap_legend;
pub(crate) mod wrap_strip;
