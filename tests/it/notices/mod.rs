//! What holders are told.

mod deliveries;
mod late_news;
mod raising;
pub(crate) mod rework_done;
mod rework_measured;
