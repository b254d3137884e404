//! One file or folder a page kind. `pack::KINDS` is their order.

pub(super) mod about;
pub(super) mod bend_sheet;
pub(super) mod changes;
pub(super) mod checks;
pub(super) mod cover;
pub(super) mod cut_sheet;
pub(super) mod drawings;
pub(super) mod fit_up;
pub(super) mod hole_strips;
pub(super) mod jig_sheets;
pub(super) mod notices;
pub(super) mod pairs;
pub(super) mod parts_list;
pub(super) mod plates;
pub(super) mod printing;
pub(super) mod stock_plan;
pub(super) mod stop_sheets;
pub(super) mod wraps;
