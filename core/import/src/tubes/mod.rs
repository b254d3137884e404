//! Tubes as paths with corners: told radii for sharp ones, and what no member can be.

mod check;
mod radius;
mod twice;

pub use check::check;
pub use radius::settle as settle_radii;
pub use twice::without_twins;
