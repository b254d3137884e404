//! English, one file a group.

pub(super) mod about;
pub(super) mod barred;
pub(super) mod cautions;
pub(super) mod changes;
pub(super) mod check_bar;
pub(super) mod checks;
pub(super) mod cover;
pub(super) mod document;
pub(super) mod figures;
pub(super) mod fit_up;
pub(super) mod hands;
pub(super) mod kept_pages;
pub(super) mod kinds;
pub(super) mod left_long;
pub(super) mod notices;
pub(super) mod page;
pub(super) mod pairs;
pub(super) mod parts_list;
pub(super) mod printing;
pub(super) mod reading;
pub(super) mod rework;
pub(super) mod set_out;
pub(super) mod step_names;
pub(super) mod stop_sheets;
pub(super) mod tiles;
pub(super) mod zero;
