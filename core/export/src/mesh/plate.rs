//! A plate as triangles.

use super::{Mesh, patch};
use core::f64::consts::TAU;
use matchmark_core::frame::{PlacedHole, PlacedPlate};

/// How far the drawn outline may lie off its arcs, mm.
const FINE: f64 = 0.05;

/// Sides of a hole.
const SIDES: u32 = 32;

/// The triangles of a plate: both faces, its edge, and its holes with their countersinks of 90 degrees.
pub(crate) fn of_plate(placed: &PlacedPlate) -> Mesh {
    let (plate, mut mesh) = (&placed.plate, Mesh::default());
    let outline = plate.outline.points(FINE);
    let levels: Vec<Vec<(f64, f64)>> = placed.holes.iter().map(|hole| levels(hole, plate.thickness)).collect();
    for (is_top, height) in [(false, 0.0), (true, plate.thickness)] {
        let mut rings = vec![outline.clone()];
        for (hole, levels) in placed.holes.iter().zip(&levels) {
            let level = if is_top { levels.last() } else { levels.first() };
            rings.extend(level.map(|&(_, radius)| circle(hole, radius)));
        }
        let normal = if is_top { plate.up() } else { -plate.up() };
        let first: Vec<u32> = rings.iter().flatten().map(|&at| mesh.vertex(plate.point(at, height), normal)).collect();
        for triangle in patch::triangles(&rings) {
            mesh.triangle(triangle.map(|at| first[at as usize]), !is_top);
        }
    }
    wall(&mut mesh, placed, [&outline, &outline], [0.0, plate.thickness], false);
    for (hole, levels) in placed.holes.iter().zip(&levels) {
        for pair in levels.windows(2) {
            let rings = [circle(hole, pair[0].1), circle(hole, pair[1].1)];
            wall(&mut mesh, placed, [&rings[0], &rings[1]], [pair[0].0, pair[1].0], true);
        }
    }
    mesh
}

/// Heights at which a hole's radius is told, from the face at the origin up.
fn levels(hole: &PlacedHole, thickness: f64) -> Vec<(f64, f64)> {
    let radius = hole.diameter / 2.0;
    let wide = hole.countersink.map_or(radius, |wide| wide / 2.0);
    let deep = (wide - radius).min(thickness);
    let mut levels = vec![(0.0, if deep < thickness { radius } else { wide - deep })];
    if deep > 0.0 && deep < thickness {
        levels.push((thickness - deep, radius));
    }
    levels.push((thickness, wide));
    levels
}

fn circle(hole: &PlacedHole, radius: f64) -> Vec<[f64; 2]> {
    let place = |side: u32| {
        let (sin, cos) = libm::sincos(TAU * f64::from(side) / f64::from(SIDES));
        [hole.at[0] + radius * cos, hole.at[1] + radius * sin]
    };
    (0..SIDES).map(place).collect()
}

/// The strip between a ring at one height and one at another, with normals of its own for each side.
fn wall(mesh: &mut Mesh, placed: &PlacedPlate, rings: [&[[f64; 2]]; 2], heights: [f64; 2], is_hole: bool) {
    let plate = &placed.plate;
    let count = rings[0].len();
    for at in 0..count {
        let next = (at + 1) % count;
        let [a, b] = [at, next].map(|at| plate.point(rings[0][at], heights[0]));
        let [c, d] = [at, next].map(|at| plate.point(rings[1][at], heights[1]));
        let normal = (b - a).cross(c - a) * if is_hole { -1.0 } else { 1.0 };
        let corners = [a, b, c, d].map(|point| mesh.vertex(point, normal));
        mesh.quad(corners, is_hole);
    }
}
