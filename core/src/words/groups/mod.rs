//! Names and slots of phrases, one file a group.

pub(crate) mod barred;
pub(crate) mod check_bar;
pub(crate) mod document;
pub(crate) mod figures;
pub(crate) mod hands;
pub(crate) mod kinds;
pub(crate) mod left_long;
pub(crate) mod page;
pub(crate) mod set_out;
pub(crate) mod step_names;
pub(crate) mod tiles;
