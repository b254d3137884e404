//! Numbers only: rays, the solids they meet, and centrelines with bends. No word of the trade below this folder.
//!
//! Lengths are mm, angles radians. A [`Ray`] has a unit direction, so its parameter is a length.

mod cut_bar;
mod cylinder;
mod ends;
mod half_space;
mod mirror;
mod outline;
mod path;
mod plate;
mod prism;
mod profile;
mod quartic;
mod ray;
mod search;
mod solid;
mod torus;
mod tree;
mod view;
mod way;

pub use cut_bar::{Cope, CutBar, Obstacle};
pub use cylinder::Cylinder;
pub use half_space::HalfSpace;
pub use mirror::mirrored;
pub use outline::{Edge, Flat, Outline};
pub use path::{Arc, Leg, Path, PathError};
pub use plate::Plate;
pub use prism::RoundedPrism;
pub use profile::{Profile, Spot};
pub use ray::{Beam, Field, Ray};
pub use search::{bisect, crossing, least_place};
pub use solid::{Hit, Piece, Solid};
pub use torus::TorusSector;
pub use tree::{Bounds, Tree};
pub use view::{Sight, View};
pub use way::{Extremes, Met, PlanePath};

pub use glam::DVec3;

/// How near a ray may pass a surface and still count as touching it, mm.
///
/// A ray that just touches is decided by this length and never by the sign of a rounded discriminant.
pub const TOUCH: f64 = 1e-7;

/// A unit vector square to `axis`, nearest to `wanted`; `None` when `wanted` is parallel to `axis` or has no length.
#[must_use]
pub fn square_to(axis: DVec3, wanted: DVec3) -> Option<DVec3> {
    let across = wanted - axis * wanted.dot(axis);
    (across.length() > 1e-9 * wanted.length().max(1e-300)).then(|| across.normalize())
}

/// `vector` turned about the unit vector `axis` by `angle`, right-handed (Rodrigues' rotation formula).
#[must_use]
pub fn turned(vector: DVec3, axis: DVec3, angle: f64) -> DVec3 {
    let (sin, cos) = libm::sincos(angle);
    vector * cos + axis.cross(vector) * sin + axis * (axis.dot(vector) * (1.0 - cos))
}
