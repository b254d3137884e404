//! English, one file a group.

pub(super) mod barred;
pub(super) mod check_bar;
pub(super) mod document;
pub(super) mod figures;
pub(super) mod hands;
pub(super) mod kinds;
pub(super) mod left_long;
pub(super) mod page;
pub(super) mod set_out;
pub(super) mod step_names;
pub(super) mod tiles;
