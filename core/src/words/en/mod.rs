//! English, one file a group.

pub(super) mod barred;
pub(super) mod change;
pub(super) mod check_bar;
pub(super) mod cuts;
pub(super) mod document;
pub(super) mod facing;
pub(super) mod figures;
pub(super) mod hand;
pub(super) mod hands;
pub(super) mod jig_places;
pub(super) mod kinds;
pub(super) mod kit_facts;
pub(super) mod left_long;
pub(super) mod page;
pub(super) mod places;
pub(super) mod plate_hand;
pub(super) mod rework;
pub(super) mod roll_structure;
pub(super) mod set_out;
pub(super) mod sizes;
pub(super) mod step_names;
pub(super) mod tiles;
