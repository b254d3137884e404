//! Object coordinates: the axes that an entity's direction of extrusion gives.

use glam::{DAffine3, DMat3, DVec3};

/// Below this in x and y the direction counts as near the world's z.
const NEAR_Z: f64 = 1.0 / 64.0;

/// Axes of the object's coordinates in the world, from its direction of extrusion (the arbitrary axis algorithm of the DXF
/// reference).
pub fn axes(extrusion: DVec3) -> DMat3 {
    let normal = extrusion.try_normalize().unwrap_or(DVec3::Z);
    let near_z = normal.x.abs() < NEAR_Z && normal.y.abs() < NEAR_Z;
    let x = if near_z { DVec3::Y.cross(normal) } else { DVec3::Z.cross(normal) }.normalize();
    DMat3::from_cols(x, normal.cross(x), normal)
}

/// From the object's coordinates to the world's.
pub fn to_world(extrusion: DVec3) -> DAffine3 {
    DAffine3::from_mat3(axes(extrusion))
}

#[cfg(test)]
mod tests {
    use super::axes;
    use glam::{DVec3, dvec3};

    #[test]
    fn seen_from_behind_x_is_reversed() {
        // DXF reference, arbitrary axis algorithm: N = (0, 0, -1) gives Ax = (-1, 0, 0).
        assert!(axes(DVec3::NEG_Z).x_axis.distance(DVec3::NEG_X) < 1e-15);
        assert!(axes(DVec3::Z).x_axis.distance(DVec3::X) < 1e-15);
        // N = X: Z x X = Y.
        assert!(axes(dvec3(2.0, 0.0, 0.0)).x_axis.distance(DVec3::Y) < 1e-15);
    }
}
