//! What the holders of kits are told: notices, stop sheets and how they get there.

pub(crate) mod deliver;
pub(crate) mod deliveries;
pub(crate) mod late;
pub(crate) mod message;
pub(crate) mod of_kits;
pub(crate) mod raising;
pub(crate) mod rework_pages;
pub(crate) mod stop_sheets;
