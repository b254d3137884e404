//! Names and slots of phrases, one file a group.

pub(crate) mod barred;
pub(crate) mod change;
pub(crate) mod check_bar;
pub(crate) mod cuts;
pub(crate) mod document;
pub(crate) mod facing;
pub(crate) mod figures;
pub(crate) mod hand;
pub(crate) mod hands;
pub(crate) mod jig_places;
pub(crate) mod kinds;
pub(crate) mod kit_facts;
pub(crate) mod left_long;
pub(crate) mod page;
pub(crate) mod places;
pub(crate) mod plate_hand;
pub(crate) mod rework;
pub(crate) mod roll_structure;
pub(crate) mod set_out;
pub(crate) mod sizes;
pub(crate) mod step_names;
pub(crate) mod tiles;
