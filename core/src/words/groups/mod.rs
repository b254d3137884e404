//! Names and slots of phrases, one file a group.

pub(crate) mod about;
pub(crate) mod barred;
pub(crate) mod cautions;
pub(crate) mod changes;
pub(crate) mod check_bar;
pub(crate) mod checks;
pub(crate) mod cover;
pub(crate) mod document;
pub(crate) mod figures;
pub(crate) mod fit_up;
pub(crate) mod hands;
pub(crate) mod kept_pages;
pub(crate) mod kinds;
pub(crate) mod left_long;
pub(crate) mod notices;
pub(crate) mod page;
pub(crate) mod pairs;
pub(crate) mod parts_list;
pub(crate) mod printing;
pub(crate) mod reading;
pub(crate) mod rework;
pub(crate) mod set_out;
pub(crate) mod step_names;
pub(crate) mod stop_sheets;
pub(crate) mod tiles;
pub(crate) mod zero;
