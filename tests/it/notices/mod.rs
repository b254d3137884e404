//! What holders are told.

mod deliveries;
mod late_news;
mod raising;
mod rework_done;
mod rework_measured;
