//! English.

pub mod before;
pub mod boxes;
pub mod card;
pub mod design_file;
pub mod fields;
pub mod file;
pub mod hands;
pub mod kit_file;
pub mod lists;
pub mod loose_page;
pub mod mail;
pub mod moved;
pub mod new_pack;
pub mod page;
pub mod readiness;
pub mod refusals;
pub mod sending;
pub mod standing;
pub mod stock;
pub mod stop_sheet;
